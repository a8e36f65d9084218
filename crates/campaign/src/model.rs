//! The problem as a mixed-integer linear program.
//!
//! ```text
//! maximise    sum_i g_i x_i
//! subject to  x_i <= y_r(i)                                  a work needs a visit to its route
//!             x_worse <= x_better                            dominance on one route
//!             sum_i q_ik x_i - b_k <= stock_k                pieces of item k, b_k bought
//!             sum_i c_i x_i + sum_r f_r y_r + sum_k p_k b_k <= money
//!             sum_i t_i x_i + sum_r v_r y_r <= hours
//!             x_i = 1 for musts;  x, y in {0, 1};  b whole, >= 0
//! ```
//! x: work chosen, y: route visited, b: pieces bought; g gain, q quantity, c fee, f visit cost, p price,
//! t and v person-hours. Works follow visits one by one, which keeps the linear relaxation tight.
//! Source: facility-location form of the fixed-charge knapsack, common practice.

use crate::{Problem, dominance, tally::Tally};
use microlp::{ComparisonOp, LinearExpr, OptimizationDirection, Variable};

/// Greatest objective coefficient after scaling, for the solver's absolute tolerances.
const GREATEST_GAIN: f64 = 1000.0;

/// The program with the meaning of its variables.
pub(crate) struct Model {
    /// The program.
    pub program: microlp::Problem,
    /// Objective value per unit of gain.
    pub scale: f64,
    works: Vec<Option<Variable>>,
    routes: Vec<Option<Variable>>,
    buys: Vec<Option<Variable>>,
}

impl Model {
    /// Writes the program. Works without gain that need not be done are left out.
    pub fn new(problem: &Problem) -> Self {
        let mut program = microlp::Problem::new(OptimizationDirection::Maximize);
        let greatest = problem.works.iter().map(|work| work.gain).fold(0.0, f64::max);
        let scale = if greatest > 0.0 { GREATEST_GAIN / greatest } else { 1.0 };

        let mut routes = vec![None; problem.routes.len()];
        let works: Vec<Option<Variable>> = problem
            .works
            .iter()
            .map(|work| {
                let counts = work.must || work.gain > 0.0;
                counts.then(|| program.add_integer_var(work.gain * scale, (i32::from(work.must), 1)))
            })
            .collect();
        let better = dominance::next_better(problem);
        for (index, work) in problem.works.iter().enumerate() {
            let Some(x) = works[index] else { continue };
            let y = *routes[work.route].get_or_insert_with(|| program.add_binary_var(0.0));
            let leader = better[index].and_then(|b| works[b]).unwrap_or(y);
            program.add_constraint([(x, 1.0), (leader, -1.0)], ComparisonOp::Le, 0.0);
        }

        let mut money = LinearExpr::empty();
        let mut hours = LinearExpr::empty();
        for (work, x) in problem.works.iter().zip(&works) {
            let Some(x) = *x else { continue };
            add(&mut money, x, work.cost);
            add(&mut hours, x, work.hours);
        }
        for (route, y) in problem.routes.iter().zip(&routes) {
            let Some(y) = *y else { continue };
            add(&mut money, y, route.visit_cost);
            add(&mut hours, y, route.visit_hours);
        }
        let mut pieces: Vec<LinearExpr> = vec![LinearExpr::empty(); problem.stock.len()];
        let mut total = vec![0.0; problem.stock.len()];
        let mut whole = vec![true; problem.stock.len()];
        for (work, x) in problem.works.iter().zip(&works) {
            let Some(x) = *x else { continue };
            for (item, quantity) in quantities(work) {
                add(&mut pieces[item], x, quantity);
                total[item] += quantity;
                whole[item] &= quantity.fract() == 0.0;
            }
        }
        let mut buys = vec![None; problem.stock.len()];
        for (item, stock) in problem.stock.iter().enumerate() {
            let in_hand = f64::from(stock.in_hand);
            if total[item] <= in_hand {
                continue;
            }
            let mut row = std::mem::replace(&mut pieces[item], LinearExpr::empty());
            if let Some(price) = stock.price {
                let most = (total[item] - in_hand).ceil();
                // whole quantities make whole purchases by themselves
                let b = if whole[item] {
                    program.add_var(0.0, (0.0, most))
                } else {
                    program.add_integer_var(0.0, (0, most.min(f64::from(i32::MAX)) as i32))
                };
                add(&mut row, b, -1.0);
                add(&mut money, b, price);
                buys[item] = Some(b);
            }
            program.add_constraint(row, ComparisonOp::Le, in_hand);
        }
        program.add_constraint(money, ComparisonOp::Le, problem.limits.money);
        program.add_constraint(hours, ComparisonOp::Le, problem.limits.hours);
        Self { program, scale, works, routes, buys }
    }

    /// A plan as values of the variables.
    pub fn start(&self, problem: &Problem, plan: &Tally) -> Vec<(Variable, f64)> {
        let mut out = Vec::new();
        let mut visited = vec![false; self.routes.len()];
        for (index, x) in self.works.iter().enumerate() {
            let Some(x) = *x else { continue };
            let chosen = plan.chosen[index];
            visited[problem.works[index].route] |= chosen;
            out.push((x, f64::from(u8::from(chosen))));
        }
        for (y, visited) in self.routes.iter().zip(visited) {
            out.extend(y.map(|y| (y, f64::from(u8::from(visited)))));
        }
        for (item, b) in self.buys.iter().enumerate() {
            out.extend(b.map(|b| (b, f64::from(plan.missing(item)))));
        }
        out
    }

    /// Indices of the works a solution chooses.
    pub fn chosen<'s>(&'s self, solution: &'s microlp::Solution) -> impl Iterator<Item = usize> + 's {
        self.works
            .iter()
            .enumerate()
            .filter(|(_, x)| x.is_some_and(|x| solution.var_value(x) > 0.5))
            .map(|(index, _)| index)
    }
}

fn add(row: &mut LinearExpr, variable: Variable, coefficient: f64) {
    if coefficient != 0.0 {
        row.add(variable, coefficient);
    }
}

/// Quantities by item, each item once.
fn quantities(work: &crate::Work) -> Vec<(usize, f64)> {
    let mut out: Vec<(usize, f64)> = Vec::with_capacity(work.uses.len());
    for need in &work.uses {
        match out.iter_mut().find(|(item, _)| *item == need.item) {
            Some((_, quantity)) => *quantity += need.quantity,
            None => out.push((need.item, need.quantity)),
        }
    }
    out
}
