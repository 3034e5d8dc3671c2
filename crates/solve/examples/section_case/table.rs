//! Rows of a comma-separated table with a header.

/// One row: names of the header and its fields.
pub(crate) struct Row {
    fields: Vec<(String, String)>,
}

impl Row {
    /// The field under that name, if it is there and not empty.
    pub(crate) fn get(&self, name: &str) -> Option<&str> {
        let field = self.fields.iter().find(|(known, _)| known == name);
        field.map(|(_, value)| value.trim()).filter(|value| !value.is_empty())
    }
}

/// All rows of a table; empty lines and lines that begin with `#` are left out.
pub(crate) fn read(text: &str) -> Vec<Row> {
    let mut records = records(text.trim_start_matches('\u{feff}')).into_iter();
    let header: Vec<String> =
        records.next().unwrap_or_default().iter().map(|name| name.trim().to_owned()).collect();
    let row = |record: Vec<String>| Row { fields: header.iter().cloned().zip(record).collect() };
    records.map(row).collect()
}

/// Fields of each record; a quoted field may hold commas, line ends and doubled quotes.
fn records(text: &str) -> Vec<Vec<String>> {
    let mut records = Vec::new();
    let mut record: Vec<String> = Vec::new();
    let mut field = String::new();
    let (mut quoted, mut comment) = (false, false);
    let mut letters = text.chars().chain(['\n']).peekable();
    while let Some(letter) = letters.next() {
        match letter {
            '\n' if comment => comment = false,
            _ if comment => {}
            '"' if quoted && letters.peek() == Some(&'"') => {
                field.push('"');
                letters.next();
            }
            '"' => quoted = !quoted,
            ',' if !quoted => record.push(std::mem::take(&mut field)),
            '\r' if !quoted => {}
            '\n' if !quoted => {
                record.push(std::mem::take(&mut field));
                let done = std::mem::take(&mut record);
                if done.iter().any(|field| !field.trim().is_empty()) {
                    records.push(done);
                }
            }
            '#' if !quoted && record.is_empty() && field.trim().is_empty() => comment = true,
            _ => field.push(letter),
        }
    }
    records
}
