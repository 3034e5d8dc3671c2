//! Pieces of a wall seen square on: metres along it, and metres of height.

/// Heights that differ by less are the same, metres.
const SAME_M: f64 = 1e-6;

/// A piece of wall between two upright lines, with a straight lower and upper edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Trapezoid {
    /// From where to where along the wall.
    pub(super) span_m: [f64; 2],
    /// Its lower edge at both ends.
    pub(super) low_m: [f64; 2],
    /// Its upper edge at both ends.
    pub(super) high_m: [f64; 2],
}

impl Trapezoid {
    pub(super) fn width_m(&self) -> f64 {
        self.span_m[1] - self.span_m[0]
    }

    pub(super) fn mean_height_m(&self) -> f64 {
        (self.high_m[0] - self.low_m[0] + self.high_m[1] - self.low_m[1]) / 2.0
    }

    /// Whether it is a rectangle.
    pub(super) fn is_level(&self) -> bool {
        let same = |ends: [f64; 2]| (ends[0] - ends[1]).abs() < SAME_M;
        same(self.low_m) && same(self.high_m)
    }

    /// Lower and upper edge at a place along the wall.
    pub(super) fn at(&self, along_m: f64) -> [f64; 2] {
        let share = match self.width_m() {
            width if width > 0.0 => (along_m - self.span_m[0]) / width,
            _ => 0.0,
        };
        [self.low_m, self.high_m].map(|[from, to]| from + (to - from) * share)
    }

    /// The part of it between two places along the wall; none if that has no width.
    pub(super) fn between(&self, from_m: f64, to_m: f64) -> Option<Trapezoid> {
        let span_m = [self.span_m[0].max(from_m), self.span_m[1].min(to_m)];
        let [start, end] = span_m.map(|along| self.at(along));
        (span_m[1] - span_m[0] > SAME_M).then_some(Trapezoid {
            span_m,
            low_m: [start[0], end[0]],
            high_m: [start[1], end[1]],
        })
    }

    /// The same piece on the facing wall, where the stretch `from` is the stretch `onto`, turned.
    pub(super) fn turned(&self, from: [f64; 2], onto: [f64; 2]) -> Trapezoid {
        let scale = (onto[1] - onto[0]) / (from[1] - from[0]);
        let map = |along: f64| onto[1] - (along - from[0]) * scale;
        Trapezoid {
            span_m: [map(self.span_m[1]), map(self.span_m[0])],
            low_m: [self.low_m[1], self.low_m[0]],
            high_m: [self.high_m[1], self.high_m[0]],
        }
    }

    /// Places along the wall, ends included, between which no edges of the two cross.
    fn cuts(&self, other: &Trapezoid) -> Vec<f64> {
        let (from, to) = (self.span_m[0].max(other.span_m[0]), self.span_m[1].min(other.span_m[1]));
        if to - from <= SAME_M {
            return Vec::new();
        }
        let mut cuts = vec![from, to];
        let ends = [from, to].map(|along| (self.at(along), other.at(along)));
        for own in 0..2 {
            for theirs in 0..2 {
                let [start, end] = ends.map(|(a, b)| a[own] - b[theirs]);
                if start * end < 0.0 {
                    cuts.push(from + (to - from) * start / (start - end));
                }
            }
        }
        cuts.sort_by(f64::total_cmp);
        cuts.dedup_by(|a, b| (*a - *b).abs() <= SAME_M);
        cuts
    }

    /// What both cover.
    pub(super) fn and(&self, other: &Trapezoid) -> Vec<Trapezoid> {
        let cuts = self.cuts(other);
        let strips = cuts.windows(2).filter_map(|cut| {
            let (own, theirs) = (self.between(cut[0], cut[1])?, other.between(cut[0], cut[1])?);
            own.with_edges(higher(own.low_m, theirs.low_m), lower(own.high_m, theirs.high_m))
        });
        strips.collect()
    }

    /// What the other one leaves of this one.
    pub(super) fn less(&self, other: &Trapezoid) -> Vec<Trapezoid> {
        let cuts = self.cuts(other);
        let (Some(first), Some(last)) = (cuts.first(), cuts.last()) else { return vec![*self] };
        if self.and(other).is_empty() {
            return vec![*self];
        }
        let mut left: Vec<Trapezoid> = self.between(self.span_m[0], *first).into_iter().collect();
        for cut in cuts.windows(2) {
            let strip = self.between(cut[0], cut[1]).zip(other.between(cut[0], cut[1]));
            let Some((own, theirs)) = strip else { continue };
            left.extend(own.with_edges(own.low_m, lower(own.high_m, theirs.low_m)));
            left.extend(own.with_edges(higher(own.low_m, theirs.high_m), own.high_m));
        }
        left.extend(self.between(*last, self.span_m[1]));
        left
    }

    /// The same stretch with other edges; none if no height is left.
    fn with_edges(&self, low_m: [f64; 2], high_m: [f64; 2]) -> Option<Trapezoid> {
        let piece = Trapezoid { span_m: self.span_m, low_m, high_m };
        (piece.mean_height_m() > SAME_M).then_some(piece)
    }
}

/// What trapezoids taken out leave of others.
pub(super) fn without(pieces: &[Trapezoid], taken: &[Trapezoid]) -> Vec<Trapezoid> {
    taken
        .iter()
        .fold(pieces.to_vec(), |left, out| left.iter().flat_map(|piece| piece.less(out)).collect())
}

fn higher(one: [f64; 2], other: [f64; 2]) -> [f64; 2] {
    [one[0].max(other[0]), one[1].max(other[1])]
}

fn lower(one: [f64; 2], other: [f64; 2]) -> [f64; 2] {
    [one[0].min(other[0]), one[1].min(other[1])]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area_m2(piece: &Trapezoid) -> f64 {
        piece.width_m() * piece.mean_height_m()
    }

    const BOX: Trapezoid = Trapezoid { span_m: [0.0, 4.0], low_m: [0.0; 2], high_m: [2.0; 2] };

    #[test]
    fn parts_and_rest_make_the_whole() {
        let others = [
            Trapezoid { span_m: [1.0, 2.0], low_m: [0.5; 2], high_m: [1.0; 2] },
            Trapezoid { span_m: [-1.0, 3.0], low_m: [-1.0, 3.0], high_m: [3.0, 5.0] },
            Trapezoid { span_m: [0.0, 4.0], low_m: [1.0, 0.0], high_m: [1.0, 4.0] },
        ];
        for other in others {
            let area = |pieces: Vec<Trapezoid>| pieces.iter().map(area_m2).sum::<f64>();
            let both = area(BOX.and(&other)) + area(BOX.less(&other));
            assert!((both - 8.0).abs() < 1e-12, "{both} of 8 with {other:?}");
        }
    }

    #[test]
    fn a_gable_is_cut_where_the_lines_cross() {
        let gable = Trapezoid { span_m: [0.0, 4.0], low_m: [0.0; 2], high_m: [0.0, 4.0] };
        // Below the rising line and below 2 m: a triangle of 2 × 2 / 2 and a square of 2 × 2.
        let area: f64 = BOX.and(&gable).iter().map(area_m2).sum();
        assert!((area - 6.0).abs() < 1e-12, "{area}");
    }

    #[test]
    fn turned_twice_is_the_same() {
        let piece = Trapezoid { span_m: [1.0, 2.0], low_m: [0.0, 0.5], high_m: [2.0, 3.0] };
        let there = piece.turned([0.0, 4.0], [3.0, 7.0]);
        assert_eq!(there.span_m, [5.0, 6.0]);
        assert_eq!(there.turned([3.0, 7.0], [0.0, 4.0]), piece);
    }
}
