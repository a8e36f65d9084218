//! Cells and tables, and how they become XLSX and CSV.

use anyhow::Result;
use jiff::civil::Date;
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format, Workbook};

#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Cell {
    Blank,
    Text(String),
    /// A number and its decimals.
    Number(f64, usize),
    Date(Date),
}

impl Cell {
    pub(crate) fn text(text: impl Into<String>) -> Self {
        let text = text.into();
        if text.is_empty() { Self::Blank } else { Self::Text(text) }
    }

    pub(crate) fn number(number: Option<f64>, decimals: usize) -> Self {
        number.map_or(Self::Blank, |number| Self::Number(number, decimals))
    }

    pub(crate) fn whole(number: impl Into<f64>) -> Self {
        Self::Number(number.into(), 0)
    }
}

pub(crate) struct Table {
    pub(crate) name: &'static str,
    pub(crate) header: Vec<&'static str>,
    pub(crate) rows: Vec<Vec<Cell>>,
}

/// A workbook with a sheet per table. Dates are true date cells. The creation time is fixed.
pub(crate) fn xlsx(tables: &[Table]) -> Result<Vec<u8>> {
    let mut book = Workbook::new();
    let made = ExcelDateTime::from_ymd(2025, 11, 2)?.and_hms(9, 30, 0)?;
    book.set_properties(&DocProperties::new().set_creation_datetime(&made));
    let day = Format::new().set_num_format("dd/mm/yyyy");
    let bold = Format::new().set_bold();
    for table in tables {
        let sheet = book.add_worksheet();
        sheet.set_name(table.name)?;
        for (column, name) in table.header.iter().enumerate() {
            sheet.write_string_with_format(0, column as u16, *name, &bold)?;
        }
        for (index, row) in table.rows.iter().enumerate() {
            for (column, cell) in row.iter().enumerate() {
                let (row, column) = (index as u32 + 1, column as u16);
                match cell {
                    Cell::Blank => {}
                    Cell::Text(text) => _ = sheet.write_string(row, column, text)?,
                    Cell::Number(number, decimals) => {
                        let shown: f64 = format!("{number:.decimals$}").parse()?;
                        sheet.write_number(row, column, shown)?;
                    }
                    Cell::Date(date) => {
                        let date = ExcelDateTime::from_ymd(
                            date.year() as u16,
                            date.month() as u8,
                            date.day() as u8,
                        )?;
                        sheet.write_datetime_with_format(row, column, &date, &day)?;
                    }
                }
            }
        }
    }
    Ok(book.save_to_buffer()?)
}

/// How one person's program writes CSV.
pub(crate) struct Style {
    pub(crate) delimiter: u8,
    pub(crate) decimal_comma: bool,
    /// strftime pattern of dates.
    pub(crate) date: &'static str,
}

pub(crate) const PLAIN: Style = Style { delimiter: b',', decimal_comma: false, date: "%Y-%m-%d" };

pub(crate) fn csv(table: &Table, style: &Style) -> Result<Vec<u8>> {
    let mut out = csv::WriterBuilder::new().delimiter(style.delimiter).flexible(true).from_writer(Vec::new());
    out.write_record(&table.header)?;
    for row in &table.rows {
        out.write_record(row.iter().map(|cell| match cell {
            Cell::Blank => String::new(),
            Cell::Text(text) => text.clone(),
            Cell::Number(number, decimals) if style.decimal_comma => {
                format!("{number:.decimals$}").replace('.', ",")
            }
            Cell::Number(number, decimals) => format!("{number:.decimals$}"),
            Cell::Date(date) => date.strftime(style.date).to_string(),
        }))?;
    }
    Ok(out.into_inner()?)
}
