//! Reading the crate's own tab-separated tables. They are part of the program: a broken row is a
//! broken build, found by the tests of the module that reads it.

/// The rows of a table as cells by column name; `#` lines and the header left out.
pub(crate) fn rows(text: &'static str) -> impl Iterator<Item = Cells> {
    let mut lines = text
        .lines()
        .filter(|l| !l.is_empty() && !l.starts_with('#'));
    let header: Vec<&str> = lines.next().unwrap_or_default().split('\t').collect();
    lines.map(move |l| Cells {
        header: header.clone(),
        cells: l.split('\t').collect(),
    })
}

/// One row.
pub(crate) struct Cells {
    header: Vec<&'static str>,
    cells: Vec<&'static str>,
}

impl Cells {
    /// The cell under a column; empty where the row is short.
    pub fn get(&self, column: &str) -> &'static str {
        let at = self.header.iter().position(|h| *h == column);
        at.and_then(|i| self.cells.get(i)).copied().unwrap_or("")
    }
    /// The cell as a number; not-a-number where it is none.
    pub fn number(&self, column: &str) -> f64 {
        self.get(column).parse().unwrap_or(f64::NAN)
    }
}
