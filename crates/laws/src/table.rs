//! Tables of the standards, interpolated, and sums over lists.

/// The value at `x` on the straight lines through `(xs, ys)`; held at both ends.
///
/// `xs` must rise. Undefined (`NaN`) stays undefined.
pub(crate) fn linear(xs: &[f64], ys: &[f64], x: f64) -> f64 {
    let (place, part) = bracket(xs, x);
    // Written as a weighted mean so that the ends are met exactly.
    ys[place] * (1.0 - part) + ys[(place + 1).min(ys.len() - 1)] * part
}

/// The value at `(row, column)` of a table, linear both ways and held at its edges.
pub(crate) fn bilinear<const N: usize>(
    rows: &[f64],
    columns: &[f64; N],
    cells: &[[f64; N]],
    row: f64,
    column: f64,
) -> f64 {
    let (place, part) = bracket(rows, row);
    let above = linear(columns, &cells[place], column);
    let below = linear(columns, &cells[(place + 1).min(cells.len() - 1)], column);
    above * (1.0 - part) + below * part
}

/// Where `x` lies among rising `xs`: the place before it, and the part of the way to the next.
fn bracket(xs: &[f64], x: f64) -> (usize, f64) {
    if x.is_nan() {
        return (0, f64::NAN);
    }
    let last = xs.len() - 1;
    let held = x.clamp(xs[0], xs[last]);
    let place = xs.partition_point(|&known| known <= held).clamp(1, last.max(1)) - 1;
    let next = (place + 1).min(last);
    let span = xs[next] - xs[place];
    (place, if span > 0.0 { (held - xs[place]) / span } else { 0.0 })
}

/// The sum of products over lists of equal length; undefined if their lengths differ.
pub(crate) fn sum_of_products<const N: usize>(lists: [&[f64]; N]) -> f64 {
    let length = lists.first().map_or(0, |list| list.len());
    if lists.iter().any(|list| list.len() != length) {
        return f64::NAN;
    }
    (0..length).map(|place| lists.iter().map(|list| list[place]).product::<f64>()).sum()
}
