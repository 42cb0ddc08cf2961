//! Reading the larder's own tab-separated tables.

use std::fmt;

/// What is wrong with a table row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TableError {
    /// The table's file name.
    pub table: &'static str,
    /// Line number in the file, from 1.
    pub line: usize,
    /// What was found and what was expected.
    pub what: String,
}

impl fmt::Display for TableError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "larder table {}, line {}: {}",
            self.table, self.line, self.what
        )
    }
}
impl std::error::Error for TableError {}

/// A row being read, cell by cell.
pub(crate) struct Row<'a> {
    pub table: &'static str,
    pub line: usize,
    cells: Vec<&'a str>,
    header: std::rc::Rc<Vec<&'a str>>,
}

impl<'a> Row<'a> {
    /// The cell under a column name; empty where the row is short.
    pub fn get(&self, column: &str) -> &'a str {
        let at = self.header.iter().position(|h| *h == column);
        at.and_then(|i| self.cells.get(i))
            .copied()
            .unwrap_or("")
            .trim()
    }
    /// The cell, which must not be empty.
    pub fn need(&self, column: &str) -> Result<&'a str, TableError> {
        match self.get(column) {
            "" => Err(self.wrong(format!("column '{column}' is empty"))),
            cell => Ok(cell),
        }
    }
    /// The cell as a number not below zero.
    pub fn number(&self, column: &str) -> Result<f64, TableError> {
        let cell = self.need(column)?;
        match cell.parse::<f64>() {
            Ok(n) if n.is_finite() && n >= 0.0 => Ok(n),
            _ => Err(self.wrong(format!(
                "column '{column}': '{cell}' is not a number of 0 or more"
            ))),
        }
    }
    /// The cell as a number, or `None` when empty.
    pub fn maybe(&self, column: &str) -> Result<Option<f64>, TableError> {
        if self.get(column).is_empty() {
            Ok(None)
        } else {
            self.number(column).map(Some)
        }
    }
    /// An error at this row.
    pub fn wrong(&self, what: String) -> TableError {
        TableError {
            table: self.table,
            line: self.line,
            what,
        }
    }
}

/// The rows of a table: first line the header, `#` lines comments.
pub(crate) fn rows<'a>(table: &'static str, text: &'a str) -> impl Iterator<Item = Row<'a>> {
    let mut lines = text
        .lines()
        .enumerate()
        .filter(|(_, l)| !l.trim().is_empty() && !l.starts_with('#'));
    let header: std::rc::Rc<Vec<&str>> = std::rc::Rc::new(
        lines
            .next()
            .map(|(_, l)| l.split('\t').map(str::trim).collect())
            .unwrap_or_default(),
    );
    lines.map(move |(i, l)| Row {
        table,
        line: i + 1,
        cells: l.split('\t').collect(),
        header: header.clone(),
    })
}
