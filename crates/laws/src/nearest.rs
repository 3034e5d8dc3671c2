//! The known word nearest to what was written.

/// The known word nearest to `written`, if one is near enough to be meant.
pub(crate) fn nearest<'a>(
    written: &str,
    known: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    // Long words cost their product in time, and no name is this long.
    let written: String = written.to_lowercase().chars().take(60).collect();
    let (distance, word) = known
        .into_iter()
        .map(|word| (distance(&written, &word.to_lowercase()), word))
        .min_by_key(|(distance, _)| *distance)?;
    let within = |word: &&str| {
        let (short, long) = (written.len().min(word.len()), written.len().max(word.len()));
        distance <= long / 2 || (short >= 3 && word.contains(written.as_str()))
    };
    Some(word).filter(within)
}

/// How many letters must be changed, added or dropped (Levenshtein).
fn distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (line, from) in a.chars().enumerate() {
        let mut diagonal = line;
        row[0] = line + 1;
        for (column, to) in b.iter().enumerate() {
            let change = diagonal + usize::from(from != *to);
            diagonal = row[column + 1];
            row[column + 1] = change.min(diagonal + 1).min(row[column] + 1);
        }
    }
    row[b.len()]
}
