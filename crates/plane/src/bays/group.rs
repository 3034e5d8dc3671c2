//! Rows side by side put into loops: the fewest, then the most even.

/// Cuts `count` rows into the fewest runs that keep a limit, evenest first.
///
/// `length(a, b)` is the length of a loop of rows `a..b`. Where even one row a loop is too long,
/// every row is a loop of its own. Returns the ends of the runs.
pub(crate) fn runs(count: usize, limit_m: f64, length: impl Fn(usize, usize) -> f64) -> Vec<usize> {
    // worst[j] is the least longest loop of the first j rows in the number of runs so far.
    let mut worst: Vec<f64> =
        (0..=count).map(|j| if j == 0 { 0.0 } else { f64::INFINITY }).collect();
    let mut starts: Vec<Vec<usize>> = Vec::new();
    for runs in 1..=count {
        let mut next = vec![f64::INFINITY; count + 1];
        let mut from = vec![0; count + 1];
        for j in runs..=count {
            for (a, before) in worst.iter().enumerate().take(j).skip(runs - 1) {
                let longest = before.max(length(a, j));
                if longest < next[j] - 1e-9 {
                    (next[j], from[j]) = (longest, a);
                }
            }
        }
        worst = next;
        starts.push(from);
        if worst[count] <= limit_m || runs == count {
            break;
        }
    }
    let mut ends = Vec::new();
    let mut end = count;
    for from in starts.iter().rev() {
        ends.push(end);
        end = from[end];
    }
    ends.reverse();
    ends
}
