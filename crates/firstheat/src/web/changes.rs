//! Which lines a mend changed.

/// One line that went or came.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Change {
    /// Its number in the text it belongs to, from one.
    pub(crate) line: usize,
    /// Whether it came; otherwise it went.
    pub(crate) came: bool,
    /// What it says.
    pub(crate) words: String,
}

/// Lines compared one by one at most; longer stretches are told as a whole.
const MOST: usize = 400;

/// The lines that differ, in order; a line that was changed went and came.
pub(crate) fn changes(before: &str, after: &str) -> Vec<Change> {
    let (old, new): (Vec<&str>, Vec<&str>) = (before.lines().collect(), after.lines().collect());
    let head = old.iter().zip(&new).take_while(|(a, b)| a == b).count();
    let most = old.len().min(new.len()) - head;
    let ends = old.iter().rev().zip(new.iter().rev()).take(most);
    let tail = ends.take_while(|(a, b)| a == b).count();
    let (old_middle, new_middle) = (&old[head..old.len() - tail], &new[head..new.len() - tail]);
    let kept = if old_middle.len().max(new_middle.len()) > MOST {
        Vec::new()
    } else {
        common(old_middle, new_middle)
    };
    let mut out = Vec::new();
    let (mut from, mut to) = (0, 0);
    for (old_at, new_at) in kept.into_iter().chain([(old_middle.len(), new_middle.len())]) {
        let went = old_middle[from..old_at].iter().zip(head + from + 1..);
        out.extend(went.map(|(words, line)| change(line, false, words)));
        let came = new_middle[to..new_at].iter().zip(head + to + 1..);
        out.extend(came.map(|(words, line)| change(line, true, words)));
        (from, to) = (old_at + 1, new_at + 1);
    }
    out
}

fn change(line: usize, came: bool, words: &str) -> Change {
    Change { line, came, words: words.to_owned() }
}

/// Places of the longest run of lines that both have in the same order.
fn common(old: &[&str], new: &[&str]) -> Vec<(usize, usize)> {
    let mut best = vec![vec![0u32; new.len() + 1]; old.len() + 1];
    for i in (0..old.len()).rev() {
        for j in (0..new.len()).rev() {
            best[i][j] = if old[i] == new[j] {
                best[i + 1][j + 1] + 1
            } else {
                best[i + 1][j].max(best[i][j + 1])
            };
        }
    }
    let (mut i, mut j, mut kept) = (0, 0, Vec::new());
    while i < old.len() && j < new.len() {
        if old[i] == new[j] {
            kept.push((i, j));
            (i, j) = (i + 1, j + 1);
        } else if best[i + 1][j] >= best[i][j + 1] {
            i += 1;
        } else {
            j += 1;
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::changes;

    fn told(before: &str, after: &str) -> Vec<String> {
        let sign = |came| if came { '+' } else { '-' };
        let all = changes(before, after).into_iter();
        all.map(|it| format!("{}{} {}", sign(it.came), it.line, it.words)).collect()
    }

    #[test]
    fn changed_added_and_removed_lines_are_told_with_their_numbers() {
        assert_eq!(told("a\nb\nc\n", "a\nB\nc\n"), ["-2 b", "+2 B"]);
        assert_eq!(told("a\nc\n", "a\nb\nc\nd\n"), ["+2 b", "+4 d"]);
        assert_eq!(told("a\nb\na\n", "a\n"), ["-2 b", "-3 a"]);
        assert!(told("a\n", "a\n").is_empty());
        assert_eq!(told("", "a\n"), ["+1 a"]);
    }
}
