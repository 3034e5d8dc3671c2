//! Numbers as people write them: decimals, fractions, mixed numbers.

/// Plain spelling of what a person or a word processor wrote.
///
/// Typographic marks become their plain forms, vulgar fractions become `1/2`, exponents `²` become
/// digits, degree signs and blanks around the text go.
pub(crate) fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    for character in text.trim().chars() {
        match character {
            '’' | '‘' | '′' | '´' | '`' => out.push('\''),
            '”' | '“' | '″' => out.push('"'),
            '–' | '—' | '−' | '‑' | '‐' => out.push('-'),
            '²' => out.push('2'),
            '³' => out.push('3'),
            '\u{a0}' | '\u{2009}' | '\u{202f}' | '\t' => out.push(' '),
            '⁄' => out.push('/'),
            _ => match vulgar_fraction(character) {
                Some(fraction) => {
                    out.push(' ');
                    out.push_str(fraction);
                }
                None => out.push(character),
            },
        }
    }
    out.replace("''", "\"")
}

fn vulgar_fraction(character: char) -> Option<&'static str> {
    Some(match character {
        '½' => "1/2",
        '¼' => "1/4",
        '¾' => "3/4",
        '⅛' => "1/8",
        '⅜' => "3/8",
        '⅝' => "5/8",
        '⅞' => "7/8",
        '⅓' => "1/3",
        '⅔' => "2/3",
        _ => return None,
    })
}

/// A number at the start of `text`, and what follows it.
///
/// Takes `12`, `12.5`, `.5`, `1e3`, `3/4`, `1 3/4`, `1-3/4` and `1,200`; the sign is the caller's.
pub(crate) fn leading(text: &str) -> Option<(f64, &str)> {
    let text = text.trim_start();
    let (first, rest) = decimal(text)?;
    if let Some(after) = rest.strip_prefix('/') {
        let (below, rest) = whole(after)?;
        return (below != 0.0).then_some((first / below, rest));
    }
    if first.fract() == 0.0
        && let Some((fraction, rest)) = fraction(rest.trim_start_matches([' ', '-']))
        && rest.len() < text.len()
        && rest_was_joined(text, rest)
    {
        return Some((first + fraction, rest));
    }
    Some((first, rest))
}

/// Whether a blank or a hyphen stood between whole number and fraction.
fn rest_was_joined(text: &str, rest: &str) -> bool {
    text[..text.len() - rest.len()].contains([' ', '-'])
}

fn fraction(text: &str) -> Option<(f64, &str)> {
    let (above, rest) = whole(text)?;
    let (below, rest) = whole(rest.strip_prefix('/')?)?;
    (below != 0.0).then_some((above / below, rest))
}

fn whole(text: &str) -> Option<(f64, &str)> {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    (end > 0 && end < 16).then(|| text[..end].parse().ok().map(|n| (n, &text[end..])))?
}

fn decimal(text: &str) -> Option<(f64, &str)> {
    let digits = |s: &str| s.find(|c: char| !c.is_ascii_digit()).unwrap_or(s.len());
    let mut end = digits(text);
    let mut cleaned = text[..end].to_owned();
    // Thousands: one to three digits, then groups of exactly three.
    while (1..=3).contains(&digits(text))
        && text[end..].starts_with(',')
        && digits(&text[end + 1..]) == 3
    {
        cleaned.push_str(&text[end + 1..end + 4]);
        end += 4;
    }
    if text[end..].starts_with('.') {
        let more = digits(&text[end + 1..]);
        cleaned.push_str(&text[end..end + 1 + more]);
        end += 1 + more;
    }
    if cleaned.is_empty() || cleaned == "." {
        return None;
    }
    let tail = &text[end..];
    if tail.starts_with(['e', 'E']) {
        let sign = usize::from(tail[1..].starts_with(['+', '-']));
        let exponent = digits(&tail[1 + sign..]);
        if exponent > 0 {
            cleaned.push_str(&tail[..1 + sign + exponent]);
            end += 1 + sign + exponent;
        }
    }
    let number: f64 = cleaned.parse().ok()?;
    number.is_finite().then_some((number, &text[end..]))
}
