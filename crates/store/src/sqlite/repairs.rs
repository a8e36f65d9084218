//! The table of repairs.

use crate::{KeptRepair, Repair, RepairCounts};
use rusqlite::{Connection, params};
use std::collections::BTreeSet;

pub(super) fn note(
    connection: &mut Connection,
    file: &str,
    found: &[Repair],
    now: i64,
) -> rusqlite::Result<RepairCounts> {
    let transaction = connection.transaction()?;
    let mut counts = RepairCounts::default();
    let wanted: BTreeSet<&Repair> = found.iter().collect();
    let mut open: BTreeSet<Repair> = BTreeSet::new();
    {
        let mut settle = transaction.prepare_cached("UPDATE repairs SET resolved = ?1 WHERE id = ?2")?;
        let mut settled: BTreeSet<Repair> = BTreeSet::new();
        for kept in select(&transaction, "WHERE file = ?1", &[&file])? {
            if kept.resolved.is_some() {
                settled.insert(kept.repair);
            } else if wanted.contains(&kept.repair) {
                open.insert(kept.repair);
            } else {
                settle.execute(params![now, kept.id.cast_signed()])?;
                counts.resolved += 1;
            }
        }
        counts.still_open = open.len();
        let mut add = transaction.prepare_cached(
            "INSERT INTO repairs (file, sheet, row, column_, value, reason, first_seen)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
        )?;
        for repair in wanted.into_iter().filter(|repair| !open.contains(repair)) {
            if settled.contains(repair) {
                counts.settled_before += 1;
                continue;
            }
            add.execute(params![
                file,
                repair.sheet.as_deref().unwrap_or(""),
                repair.row,
                repair.column.as_deref().unwrap_or(""),
                repair.value,
                repair.reason,
                now,
            ])?;
            counts.added += 1;
        }
    }
    transaction.commit()?;
    Ok(counts)
}

pub(super) fn list(connection: &Connection, open_only: bool) -> rusqlite::Result<Vec<KeptRepair>> {
    select(connection, if open_only { "WHERE resolved IS NULL" } else { "" }, &[])
}

pub(super) fn resolve(connection: &Connection, id: u64, now: i64) -> rusqlite::Result<bool> {
    let sql = "UPDATE repairs SET resolved = ?1 WHERE id = ?2 AND resolved IS NULL";
    Ok(connection.execute(sql, params![now, id.cast_signed()])? > 0)
}

fn select(
    connection: &Connection,
    which: &str,
    values: &[&dyn rusqlite::ToSql],
) -> rusqlite::Result<Vec<KeptRepair>> {
    let sql = format!(
        "SELECT id, file, sheet, row, column_, value, reason, first_seen, resolved FROM repairs {which}
         ORDER BY file, sheet, row, column_, id"
    );
    let some = |text: String| Some(text).filter(|text| !text.is_empty());
    let mut select = connection.prepare_cached(&sql)?;
    let rows = select.query_map(values, |row| {
        Ok(KeptRepair {
            id: row.get::<_, i64>(0)?.cast_unsigned(),
            file: row.get(1)?,
            repair: Repair {
                sheet: some(row.get(2)?),
                row: row.get(3)?,
                column: some(row.get(4)?),
                value: row.get(5)?,
                reason: row.get(6)?,
            },
            first_seen: row.get(7)?,
            resolved: row.get(8)?,
        })
    })?;
    rows.collect()
}
