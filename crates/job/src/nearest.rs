//! The name that was meant.

/// The known name nearest to a mistaken one, if one is near enough to be meant.
pub(crate) fn nearest<'a>(
    mistaken: &str,
    known: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    let mistaken = plain(mistaken);
    let most = (mistaken.chars().count() / 3).max(1);
    known
        .into_iter()
        .map(|name| (distance(&mistaken, &plain(name)), name))
        .filter(|(distance, _)| *distance <= most)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, name)| name)
}

/// Lower case without blanks and joiners, so that `Great Room` is near to `great_room`.
pub(crate) fn plain(name: &str) -> String {
    name.chars()
        .filter(|c| !matches!(c, ' ' | '-' | '_' | '.'))
        .flat_map(char::to_lowercase)
        .take(64)
        .collect()
}

/// How many letters must be changed, added, dropped or swapped with their neighbour.
fn distance(a: &str, b: &str) -> usize {
    let (a, b): (Vec<char>, Vec<char>) = (a.chars().collect(), b.chars().collect());
    let mut before: Vec<usize> = Vec::new();
    let mut above: Vec<usize> = (0..=b.len()).collect();
    for i in 1..=a.len() {
        let mut row = vec![i];
        for j in 1..=b.len() {
            let same = usize::from(a[i - 1] != b[j - 1]);
            let mut best = (above[j - 1] + same).min(above[j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                best = best.min(before[j - 2] + 1);
            }
            row.push(best);
        }
        before = std::mem::replace(&mut above, row);
    }
    above.last().copied().unwrap_or(0)
}
