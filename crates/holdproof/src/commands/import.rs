//! `import`: files into the register.

use crate::answer::FORMAT;
use crate::cli::UnitChoice;
use crate::desk::Desk;
use crate::exit::{Exit, Failure};
use crate::importing::{self, FileReport, Found, Pen};
use crate::table::{hanging, wrap};
use crate::{open, progress, words};
use clap::ValueEnum;
use exchange::{DateOrder, Finding, Known, Limits, Options, Repair, SheetKind};
use register::{Fact, State};
use serde::Serialize;
use std::collections::{BTreeMap, HashSet};
use std::io::Write;
use std::path::{Path, PathBuf};
use store::RegisterStore;

/// Options.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Takes CSV and XLSX sheets with any column names (placements, sightings, pulls, crags, routes,
stock, batches), GPX waypoints, JPEG photos and load-cell traces; a folder stands for all files in
it. What the register knows already adds nothing, so a corrected file, or a corrected repair list,
can be imported again; what was corrected in the register since stands. Values that cannot be read
stay out and go to a repair list; the rest of the row is taken.

Examples:
  holdproof import bolts.xlsx --dry-run                  show the guessed columns and what would happen
  holdproof import bolts.xlsx --save-mapping bolts.toml  keep the guessed columns as a file to edit
  holdproof import bolts.xlsx --mapping bolts.toml
  holdproof import spreadsheets photos tracks")]
pub struct Args {
    /// Files or folders
    #[arg(value_name = "FILES", required = true)]
    files: Vec<PathBuf>,
    /// What the rows are, where the guess is wrong
    #[arg(long, value_name = "KIND", value_parser = |text: &str| text.parse::<SheetKind>())]
    kind: Option<SheetKind>,
    /// Take the columns as this file says
    #[arg(long, value_name = "FILE")]
    mapping: Option<PathBuf>,
    /// Save how the columns were taken; with several sheets the name gets a number
    #[arg(long, value_name = "FILE")]
    save_mapping: Option<PathBuf>,
    /// Only this sheet of a workbook
    #[arg(long, value_name = "NAME")]
    sheet: Option<String>,
    /// The crag of rows that name none
    #[arg(long, value_name = "CRAG")]
    crag: Option<String>,
    /// Units of numbers that carry none
    #[arg(long, value_enum, value_name = "UNITS", default_value_t = UnitChoice::Metric)]
    cells: UnitChoice,
    /// Order of day and month where a column of dates does not show it
    #[arg(long, value_enum, value_name = "ORDER")]
    dates: Option<OrderChoice>,
    /// Take names spelt almost like known ones as new ones
    #[arg(long)]
    new_names: bool,
    /// Show what would happen and write nothing
    #[arg(long)]
    dry_run: bool,
    /// Who states what the files say
    #[arg(long, value_name = "NAME", env = "HOLDPROOF_AUTHOR", hide_env_values = true)]
    author: Option<String>,
    /// Folder for the repair lists (CSV) [default: `repairs` beside the register]
    #[arg(long, value_name = "DIR")]
    repair_lists: Option<PathBuf>,
    /// Show every finding instead of the first few of a sheet
    #[arg(long)]
    all_findings: bool,
}

/// Order of a date's parts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum OrderChoice {
    /// 31/12/2024
    DayMonthYear,
    /// 12/31/2024
    MonthDayYear,
    /// 2024-12-31
    YearMonthDay,
}

impl From<OrderChoice> for DateOrder {
    fn from(choice: OrderChoice) -> Self {
        match choice {
            OrderChoice::DayMonthYear => Self::DayMonthYear,
            OrderChoice::MonthDayYear => Self::MonthDayYear,
            OrderChoice::YearMonthDay => Self::YearMonthDay,
        }
    }
}

#[derive(Serialize)]
struct Answer<'a> {
    format: u32,
    dry_run: bool,
    files: Vec<FileAnswer<'a>>,
    facts_new: usize,
    repairs_settled: usize,
    repair_lists: &'a [String],
}

#[derive(Serialize)]
struct FileAnswer<'a> {
    file: &'a str,
    sheet: Option<&'a str>,
    read_as: &'a str,
    rows: u32,
    taken: u32,
    unchanged: u32,
    duplicates: u32,
    corrected_since: u32,
    rows_to_repair: u32,
    facts_new: usize,
    columns: Vec<ColumnAnswer<'a>>,
    repairs: &'a [Repair],
    findings: &'a [Finding],
    error: Option<&'a str>,
}

#[derive(Serialize)]
struct ColumnAnswer<'a> {
    heading: &'a str,
    holds: Option<String>,
    unit: Option<&'a str>,
    why: &'a str,
}

/// Imports the files.
pub fn run(args: &Args, desk: &mut Desk) -> Result<Exit, Failure> {
    let mut store = if args.dry_run { open::to_read(desk)? } else { open::to_write(desk)? };
    let options = options(args, desk)?;
    let files = importing::find(&args.files, &options, &desk.register)?;
    let mut state = store.state()?;
    let author = args.author.clone().or_else(user).unwrap_or_else(|| "unknown".to_owned());
    let mut pen =
        Pen::new(author, "command-line".to_owned(), store.latest_stamp()?.as_ref(), desk.now_millis());

    let bar = progress::bar(files.len() as u64, "importing", desk.json || files.len() < 2);
    let mut reports: Vec<FileReport> = Vec::new();
    let mut settled = 0;
    for (at, found) in files.iter().enumerate() {
        let known = &state;
        let read = take_in(&mut store, found, &options, known, &mut pen, desk.now_millis(), args.dry_run);
        match read {
            Ok(taken) => {
                state.apply(taken.facts);
                reports.extend(taken.reports);
                settled += taken.settled;
            }
            Err(failure) if args.dry_run => return Err(failure),
            Err(failure) => return Err(stopped(failure, &files, at, &reports)),
        }
        bar.inc(1);
    }
    bar.finish_and_clear();

    let mut lists = Vec::new();
    let all_in = |failure: Failure| {
        if args.dry_run { failure } else { stopped(failure, &files, files.len(), &reports) }
    };
    if !args.dry_run {
        let folder = args.repair_lists.clone().unwrap_or_else(|| desk.register.with_file_name("repairs"));
        lists = write_lists(&folder, &reports).map_err(all_in)?;
    }
    if let Some(path) = &args.save_mapping {
        save_mappings(path, &reports).map_err(all_in)?;
    }
    let facts_new = reports.iter().map(|report| report.facts_new).sum();
    if desk.json {
        let files = reports.iter().map(file_answer).collect();
        let answer = Answer {
            format: FORMAT,
            dry_run: args.dry_run,
            files,
            facts_new,
            repairs_settled: settled,
            repair_lists: &lists,
        };
        desk.write_json(&answer)?;
    } else {
        print(&mut desk.out, args, &reports, facts_new, settled, &lists)?;
    }
    let trouble = reports.iter().any(|report| report.error.is_some() || report.rows_to_repair > 0);
    Ok(if trouble { Exit::Findings } else { Exit::Fine })
}

/// What became of one file.
struct TakenIn {
    facts: Vec<Fact>,
    reports: Vec<FileReport>,
    /// Entries of the repair list that are settled now.
    settled: usize,
}

/// Reads one file and takes it in: its facts in one transaction, then its repairs.
fn take_in(
    store: &mut impl RegisterStore,
    found: &Found,
    options: &Options,
    state: &State,
    pen: &mut Pen,
    now: i64,
    dry_run: bool,
) -> Result<TakenIn, Failure> {
    let said = importing::said::by_sheet(store, found, options.limits)?;
    let known = Known { register: state, said: &said };
    let (facts, mut reports) = importing::read(found, options, known, pen);
    let facts = importing::said::news(store, found, facts)?;
    if let [report] = &mut reports[..] {
        report.facts_new = facts.len();
    }
    leave_out_settled(store, &found.name, &mut reports)?;
    let mut settled = 0;
    if !dry_run {
        store.append(&facts)?;
        settled = note_repairs(store, found, &reports, options.limits, now)?;
    }
    Ok(TakenIn { facts, reports, settled })
}

/// Takes out of the reports what a person has settled as it is.
fn leave_out_settled(
    store: &impl RegisterStore,
    file: &str,
    reports: &mut [FileReport],
) -> Result<(), Failure> {
    if reports.iter().all(|report| report.repairs.is_empty()) {
        return Ok(());
    }
    let kept = store.repairs(false)?;
    let of_file = || kept.iter().filter(|kept| kept.file == file);
    let open: HashSet<&store::Repair> =
        of_file().filter(|k| k.resolved.is_none()).map(|k| &k.repair).collect();
    let settled: HashSet<&store::Repair> =
        of_file().filter(|k| k.resolved.is_some() && !open.contains(&k.repair)).map(|k| &k.repair).collect();
    for report in reports {
        let before = report.repairs.len();
        report.repairs.retain(|repair| !settled.contains(&kept_form(repair)));
        if report.repairs.len() < before {
            let rows: HashSet<u32> = report.repairs.iter().map(|repair| repair.row).collect();
            report.rows_to_repair = u32::try_from(rows.len()).unwrap_or(u32::MAX);
        }
    }
    Ok(())
}

/// A repair as the store keeps it.
fn kept_form(repair: &Repair) -> store::Repair {
    store::Repair {
        sheet: repair.sheet.clone(),
        row: repair.row,
        column: Some(repair.column.clone()).filter(|column| !column.is_empty()),
        value: repair.value.clone(),
        reason: format!("{}; {}", repair.reason, repair.advice),
    }
}

/// Adds to a failure in the midst of an import what is in the register and what is not. `at` is the place of
/// the file at which it stopped; that many files are in.
fn stopped(failure: Failure, files: &[Found], at: usize, reports: &[FileReport]) -> Failure {
    let facts: usize = reports.iter().map(|report| report.facts_new).sum();
    let names = |files: &[Found]| {
        let shown: Vec<&str> = files.iter().take(6).map(|found| found.name.as_str()).collect();
        let more = if files.len() > shown.len() { ", ..." } else { "" };
        format!("{}{more}", shown.join(", "))
    };
    let again = "When it is put right, import the same again: what is in adds nothing twice.";
    let advice = failure.advice.clone().map_or_else(String::new, |advice| format!("{advice}\n  "));
    let inside = match at {
        0 => return failure.advise(format!("{advice}Nothing was taken in.")),
        n => format!(
            "In the register: {} with {} ({}).",
            words::count(n, "file"),
            words::count(facts, "fact"),
            names(&files[..n])
        ),
    };
    let outside = match files.get(at..).unwrap_or(&[]) {
        [] => String::new(),
        rest => format!("\n  Not in it: {} ({}).", words::count(rest.len(), "file"), names(rest)),
    };
    failure.advise(format!("{advice}{inside}{outside}\n  {again}"))
}

fn options(args: &Args, desk: &Desk) -> Result<Options, Failure> {
    let mut options = Options::new(desk.today);
    options.kind = args.kind;
    options.mapping = args.mapping.as_deref().map(importing::mapping).transpose()?;
    options.sheet.clone_from(&args.sheet);
    options.crag.clone_from(&args.crag);
    options.units = args.cells.into();
    options.date_order = args.dates.map(DateOrder::from);
    options.new_names = args.new_names;
    Ok(options)
}

/// The name that the system knows its user by.
fn user() -> Option<String> {
    ["USER", "USERNAME"]
        .iter()
        .find_map(|name| std::env::var(name).ok())
        .filter(|name| !name.trim().is_empty())
}

/// Tells the store which rows of a sheet wait for repair, and thereby which no longer do. A repair list
/// that comes back settles the rows it was copied from. Returns how many entries are settled now.
fn note_repairs(
    store: &mut impl RegisterStore,
    found: &Found,
    reports: &[FileReport],
    limits: Limits,
    now: i64,
) -> Result<usize, Failure> {
    let is_sheet = matches!(found.kind, importing::Kind::Sheet(_));
    if !is_sheet || reports.iter().any(|report| report.error.is_some()) {
        return Ok(0);
    }
    let repairs = || reports.iter().flat_map(|report| &report.repairs);
    if reports.iter().any(|report| exchange::is_repair_list(&report.headings)) {
        let still_bad: HashSet<u32> = repairs().map(|repair| repair.row).collect();
        let settled = importing::settled(importing::copied_rows(found, limits), &still_bad);
        let mut gone = 0;
        for kept in store.repairs(true)? {
            let goes = settled.iter().any(|copied| {
                copied.original_row == kept.repair.row
                    && copied.file == kept.file
                    && copied.sheet == kept.repair.sheet
            });
            if goes {
                gone += usize::from(store.resolve_repair(kept.id, now)?);
            }
        }
        return Ok(gone);
    }
    let found_now: Vec<store::Repair> = repairs().map(kept_form).collect();
    Ok(store.note_repairs(&found.name, &found_now, now)?.resolved)
}

/// Writes one repair list for each sheet that needs one. A list that is there and says otherwise is kept with
/// `.before` after its name.
fn write_lists(folder: &Path, reports: &[FileReport]) -> Result<Vec<String>, Failure> {
    let mut written = Vec::new();
    let mut taken = HashSet::new();
    let sheets = reports.iter().filter(|r| !r.headings.is_empty() && !exchange::is_repair_list(&r.headings));
    for report in sheets {
        let stem = Path::new(&report.file).file_stem().unwrap_or_default().to_string_lossy().into_owned();
        let sheet = report.sheet.as_deref().map_or_else(String::new, |sheet| format!("-{sheet}"));
        let name =
            format!("{stem}{sheet}").replace(|c: char| !c.is_alphanumeric() && c != '-' && c != '_', "-");
        let mut path = folder.join(format!("{name}.csv"));
        let mut number = 1;
        while !taken.insert(path.clone()) {
            number += 1;
            path = folder.join(format!("{name}-{number}.csv"));
        }
        if report.error.is_some() {
            continue;
        }
        let mut list = Vec::new();
        if !report.repairs.is_empty() {
            exchange::write_repairs(&mut list, &report.headings, &report.repairs)
                .map_err(|e| Failure::file("write", &path, e))?;
        }
        // A person may be at work in the list that is there.
        if std::fs::read(&path).is_ok_and(|before| before != list) {
            let kept = path.with_extension("csv.before");
            std::fs::rename(&path, &kept).map_err(|e| Failure::file("rename", &path, e))?;
        }
        if list.is_empty() {
            continue;
        }
        std::fs::create_dir_all(folder).map_err(|e| Failure::file("make the folder", folder, e))?;
        std::fs::write(&path, list).map_err(|e| Failure::file("write", &path, e))?;
        written.push(path.display().to_string());
    }
    Ok(written)
}

fn save_mappings(path: &Path, reports: &[FileReport]) -> Result<(), Failure> {
    let mappings: Vec<_> = reports.iter().filter_map(|report| report.mapping.as_ref()).collect();
    if mappings.is_empty() {
        return Err(Failure::usage("there is no sheet whose columns could be saved"));
    }
    for (index, mapping) in mappings.iter().enumerate() {
        let target = if index == 0 {
            path.to_owned()
        } else {
            let stem = path.file_stem().unwrap_or_default().to_string_lossy();
            path.with_file_name(format!("{stem}-{}.toml", index + 1))
        };
        let text = mapping.to_toml().map_err(Failure::other)?;
        std::fs::write(&target, text).map_err(|e| Failure::file("write", &target, e))?;
    }
    Ok(())
}

fn file_answer(report: &FileReport) -> FileAnswer<'_> {
    let columns = report.mapping.iter().flat_map(|mapping| &mapping.columns);
    FileAnswer {
        file: &report.file,
        sheet: report.sheet.as_deref(),
        read_as: &report.read_as,
        rows: report.rows,
        taken: report.taken,
        unchanged: report.unchanged,
        duplicates: report.duplicates,
        corrected_since: report.corrected_since,
        rows_to_repair: report.rows_to_repair,
        facts_new: report.facts_new,
        columns: columns
            .map(|column| ColumnAnswer {
                heading: &column.heading,
                holds: column.holds.map(|holds| holds.name()),
                unit: column.unit.as_deref(),
                why: &column.why,
            })
            .collect(),
        repairs: &report.repairs,
        findings: &report.findings,
        error: report.error.as_deref(),
    }
}

/// Findings of one sheet that are shown unless all are asked for.
const FEW: usize = 8;
/// Cases of one finding that are shown unless all are asked for.
const FEW_CASES: usize = 4;

fn print(
    out: &mut dyn Write,
    args: &Args,
    reports: &[FileReport],
    facts_new: usize,
    settled: usize,
    lists: &[String],
) -> Result<(), Failure> {
    let mut quiet: BTreeMap<&str, usize> = BTreeMap::new();
    for report in reports {
        // photos and traces that went in without a remark are only counted
        let plain = report.mapping.is_none() && report.error.is_none();
        let remarkable = report.read_as != "photo" && !report.findings.is_empty();
        if plain && !remarkable && !args.dry_run && !args.all_findings {
            *quiet.entry(report.read_as.as_str()).or_default() += 1;
            continue;
        }
        one_file(out, args, report)?;
    }
    for (read_as, count) in quiet {
        writeln!(out, "{}", words::count(count, read_as))?;
    }
    let rows_to_repair: u32 = reports.iter().map(|report| report.rows_to_repair).sum();
    writeln!(out)?;
    match (args.dry_run, facts_new) {
        (true, n) => writeln!(out, "Nothing was written. The import would add {}.", words::count(n, "fact"))?,
        (false, 0) if reports.iter().any(|report| report.taken > 0) => {
            writeln!(out, "Nothing new: the register knows all of this already.")?;
        }
        (false, 0) => writeln!(out, "Nothing new was taken in.")?,
        (false, n) => writeln!(out, "Added {}.", words::count(n, "fact"))?,
    }
    if settled > 0 {
        writeln!(out, "{} of the repair list settled.", words::count(settled, "entry"))?;
    }
    if rows_to_repair > 0 {
        writeln!(
            out,
            "{} to repair. `holdproof repairs` says what is wrong.",
            words::count(rows_to_repair as usize, "row")
        )?;
    }
    for list in lists {
        writeln!(out, "  repair list: {list}")?;
    }
    Ok(())
}

fn one_file(out: &mut dyn Write, args: &Args, report: &FileReport) -> Result<(), Failure> {
    let sheet = report.sheet.as_deref().map_or_else(String::new, |sheet| format!(", sheet {sheet}"));
    writeln!(out, "{}", words::heading(&format!("{}{sheet}", report.file)))?;
    if let Some(error) = &report.error {
        writeln!(out, "{}", wrap(&format!("not read: {error}"), 96, "  "))?;
        return Ok(());
    }
    if report.mapping.is_some() {
        writeln!(out, "  {}: {}", report.read_as, fared(report))?;
    } else if report.read_as != "nothing" {
        writeln!(out, "  {}: {}", report.read_as, words::count(report.facts_new, "new fact"))?;
    }
    if let (Some(mapping), true) = (&report.mapping, args.dry_run) {
        for column in mapping.columns.iter().filter(|column| !column.heading.trim().is_empty()) {
            let holds =
                column.holds.map_or_else(|| "not read, goes into the note".to_owned(), |holds| holds.name());
            let unit = column.unit.as_deref().map_or_else(String::new, |unit| format!(" in {unit}"));
            writeln!(out, "    {:<24} {holds}{unit}  ({})", column.heading.trim(), column.why)?;
        }
    }
    let lines = finding_lines(&report.findings, args.all_findings);
    let shown = if args.all_findings { usize::MAX } else { FEW };
    for line in lines.iter().take(shown) {
        writeln!(out, "{}", hanging("    - ", line, 96))?;
    }
    if lines.len() > shown {
        writeln!(out, "    ... and {} more (--all-findings)", words::count(lines.len() - shown, "finding"))?;
    }
    if args.dry_run {
        for repair in report.repairs.iter().take(shown) {
            let text = format!(
                "row {}, {}: '{}': {}; {}",
                repair.row, repair.column, repair.value, repair.reason, repair.advice
            );
            writeln!(out, "{}", hanging("    to repair: ", &text, 96))?;
        }
        if report.repairs.len() > shown {
            writeln!(out, "    ... and {} more to repair (--all-findings)", report.repairs.len() - shown)?;
        }
    }
    Ok(())
}

/// How the rows of a sheet fared, without what did not happen.
fn fared(report: &FileReport) -> String {
    let mut parts = vec![format!("{} read", words::count(report.rows as usize, "row"))];
    let taken = match report.unchanged {
        0 => format!("{} taken", report.taken),
        n if n == report.taken => format!("{} taken, all without news", report.taken),
        n => format!("{} taken ({n} without news)", report.taken),
    };
    parts.push(taken);
    match report.duplicates {
        0 => {}
        1 => parts.push("1 copy".to_owned()),
        n => parts.push(format!("{n} copies")),
    }
    if report.rows_to_repair > 0 {
        parts.push(format!("{} to repair", report.rows_to_repair));
    }
    parts.join(", ")
}

/// Findings as lines, those that say the same of several columns in one.
fn finding_lines(findings: &[Finding], all: bool) -> Vec<String> {
    let most = if all { usize::MAX } else { FEW_CASES };
    let rows = |finding: &Finding| match (finding.row, finding.rows) {
        (0, 0 | 1) => String::new(),
        (row, 1) => format!(" (row {row})"),
        (_, rows) => format!(" ({rows} rows)"),
    };
    let mut lines: Vec<(&str, Vec<&Finding>)> = Vec::new();
    for finding in findings {
        match lines.iter_mut().find(|(text, list)| *text == finding.text && list[0].column.is_some()) {
            Some((_, list)) if finding.column.is_some() => list.push(finding),
            _ => lines.push((&finding.text, vec![finding])),
        }
    }
    lines
        .into_iter()
        .map(|(text, list)| match &list[..] {
            [one] if one.column.is_none() => match (one.cases.is_empty(), one.row, one.rows) {
                (true, row @ 1.., 1) => format!("row {row}: {text}"),
                (true, 1.., rows) => format!("{text} ({rows} rows)"),
                _ => one.told(most),
            },
            [one] => {
                format!("{}: {}{}", one.column.as_deref().unwrap_or("").trim(), one.told(most), rows(one))
            }
            many => {
                let of_column = |finding: &&Finding| {
                    let name = finding.column.as_deref().unwrap_or_default().trim();
                    let cases = Finding { text: name.to_owned(), ..(*finding).clone() }.told(most);
                    format!("{cases}{}", rows(finding))
                };
                let shown = if all { many.len() } else { many.len().min(FEW) };
                let columns = many[..shown].iter().map(of_column).collect::<Vec<_>>().join("; ");
                match many.len() - shown {
                    0 => format!("{text}: {columns}"),
                    more => format!("{text}: {columns}; and {}", words::count(more, "more column")),
                }
            }
        })
        .collect()
}
