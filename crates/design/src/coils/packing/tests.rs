//! Packings against all that there are, one by one.

use super::{Cost, Filled, Packing, Source, Stock, pack};

/// The least cost over every way to open coils and put loops into them.
fn brute_force(needs_mm: &[u64], stock: &Stock) -> Cost {
    fn place(
        number: usize,
        needs_mm: &[u64],
        stock: &Stock,
        packing: &mut Packing,
        least: &mut Option<Cost>,
    ) {
        let Some(&need_mm) = needs_mm.get(number) else {
            let cost = packing.cost(needs_mm, stock);
            *least = Some(least.map_or(cost, |known| known.min(cost)));
            return;
        };
        for coil in 0..packing.coils.len() {
            let open = &packing.coils[coil];
            let used_mm: u64 = open.loops.iter().map(|it| needs_mm[*it]).sum();
            if used_mm + need_mm <= stock.length_mm(open.source) {
                packing.coils[coil].loops.push(number);
                place(number + 1, needs_mm, stock, packing, least);
                packing.coils[coil].loops.pop();
            }
        }
        let sizes = (0..stock.sizes_mm.len()).map(Source::Size);
        for source in sizes.chain((0..stock.pieces_mm.len()).map(Source::Piece)) {
            let taken = matches!(source, Source::Piece(_))
                && packing.coils.iter().any(|coil| coil.source == source);
            if !taken && need_mm <= stock.length_mm(source) {
                packing.coils.push(Filled { source, loops: vec![number] });
                place(number + 1, needs_mm, stock, packing, least);
                packing.coils.pop();
            }
        }
        packing.short.push(number);
        place(number + 1, needs_mm, stock, packing, least);
        packing.short.pop();
    }
    let mut least = None;
    place(0, needs_mm, stock, &mut Packing::default(), &mut least);
    least.unwrap_or(Cost::NOTHING)
}

/// Every loop once, no coil over its length, no piece twice.
fn check(packing: &Packing, needs_mm: &[u64], stock: &Stock) {
    let mut seen = packing.short.clone();
    let mut pieces = Vec::new();
    for coil in &packing.coils {
        let used_mm: u64 = coil.loops.iter().map(|it| needs_mm[*it]).sum();
        assert!(used_mm <= stock.length_mm(coil.source), "{coil:?} is too short");
        assert!(!coil.loops.is_empty());
        seen.extend(&coil.loops);
        if let Source::Piece(piece) = coil.source {
            assert!(!pieces.contains(&piece), "piece {piece} is cut twice");
            pieces.push(piece);
        }
    }
    seen.sort_unstable();
    assert_eq!(seen, (0..needs_mm.len()).collect::<Vec<_>>());
}

/// A plain sequence of numbers that look random (Lehmer, multiplier 48271).
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, most: u64) -> u64 {
        self.0 = self.0 * 48271 % 2_147_483_647;
        self.0 % most
    }
}

/// Loops of 15 to 90 m, coils near what is sold, some rest pieces.
fn instance(numbers: &mut Numbers, loops: usize, sizes: u64, pieces: u64) -> (Vec<u64>, Stock) {
    let metre = |numbers: &mut Numbers, from: u64, to: u64| {
        1000 * (from + numbers.below(to - from)) + 100 * numbers.below(10)
    };
    let needs = (0..loops).map(|_| metre(numbers, 15, 90)).collect();
    let sizes_mm = (0..sizes).map(|_| metre(numbers, 80, 310)).collect();
    let pieces_mm = (0..pieces).map(|_| metre(numbers, 10, 160)).collect();
    (needs, Stock { sizes_mm, pieces_mm })
}

#[test]
fn packings_of_up_to_eight_loops_are_the_best_there_are() {
    let mut numbers = Numbers(20_240_817);
    for round in 0..120 {
        let loops = 1 + round % 8;
        let sources = if loops > 6 { 2 } else { 3 };
        let sizes = numbers.below(sources + 1);
        let (needs, stock) = instance(&mut numbers, loops, sizes, sources - sizes);
        let packed = pack(&needs, &stock);
        check(&packed.packing, &needs, &stock);
        assert!(packed.exact);
        let cost = packed.packing.cost(&needs, &stock);
        assert_eq!(cost, brute_force(&needs, &stock), "{needs:?} from {stock:?}");
    }
}

#[test]
fn a_packing_of_many_loops_is_near_its_bound() {
    let mut numbers = Numbers(7);
    let foot = |feet: u64| feet * 3048 / 10;
    for round in 0..12 {
        let pieces = round % 3;
        let (needs, mut stock) = instance(&mut numbers, 14 + 3 * round as usize, 0, pieces);
        stock.sizes_mm = vec![foot(1000), foot(500), foot(300)];
        let packed = pack(&needs, &stock);
        check(&packed.packing, &needs, &stock);
        let bought_mm = packed.packing.cost(&needs, &stock).bought_mm;
        assert!(packed.packing.short.is_empty());
        assert!(packed.least_bought_mm <= bought_mm);
        let gap = (bought_mm - packed.least_bought_mm) as f64 / bought_mm as f64;
        assert!(gap < 0.05, "{gap} above the bound with {} loops", needs.len());
    }
}

#[test]
fn the_bound_is_below_the_best_packing() {
    let mut numbers = Numbers(99);
    for _ in 0..60 {
        let (needs, stock) = instance(&mut numbers, 6, 2, 1);
        let packed = pack(&needs, &stock);
        if packed.packing.short.is_empty() {
            let bound_mm = super::bound::least_bought_mm(&needs, &stock);
            assert!(bound_mm <= packed.packing.cost(&needs, &stock).bought_mm);
        }
    }
}

#[test]
fn improving_finds_the_best_of_nine_loops_in_most_cases() {
    let mut numbers = Numbers(3);
    let mut best = 0;
    for _ in 0..40 {
        let (needs, stock) = instance(&mut numbers, 9, 2, 1);
        let exact = super::exact::pack(&needs, &stock).cost(&needs, &stock);
        let mut packing = super::first_fit::pack(&needs, &stock);
        super::improve::improve(&mut packing, &needs, &stock);
        check(&packing, &needs, &stock);
        let improved = packing.cost(&needs, &stock);
        assert!(improved >= exact);
        best += usize::from(improved == exact);
    }
    assert!(best >= 36, "only {best} of 40");
}

#[test]
fn less_tube_goes_before_fewer_coils_and_these_before_a_long_rest() {
    let stock = |sizes: &[u64], pieces: &[u64]| Stock {
        sizes_mm: sizes.to_vec(),
        pieces_mm: pieces.to_vec(),
    };
    // Two coils of 300 rather than one of 1000.
    let cost = |needs: &[u64], stock: &Stock| pack(needs, stock).packing.cost(needs, stock);
    let two = cost(&[250, 250], &stock(&[300, 1000], &[]));
    assert_eq!((two.bought_mm, two.coils), (600, 2));
    // One of 600 rather than two of 300.
    assert_eq!(cost(&[250, 250], &stock(&[300, 600], &[])).coils, 1);
    // The rest piece costs nothing; the loop that does not fit it is bought for.
    let rest = cost(&[250, 100], &stock(&[300, 600], &[120]));
    assert_eq!((rest.bought_mm, rest.coils), (300, 2));
    // From one of two pieces either way; the longer one is kept whole.
    let kept = pack(&[100], &stock(&[], &[120, 400]));
    assert_eq!(kept.packing.coils[0].source, Source::Piece(0));
    // With a longer one whole anyway, the shortest that will do is used up.
    let scrap = pack(&[100], &stock(&[], &[120, 300, 400]));
    assert_eq!(scrap.packing.coils[0].source, Source::Piece(0));
}

#[test]
fn nothing_to_cut_and_nothing_to_cut_from() {
    let none = Stock::default();
    assert_eq!(pack(&[], &none).packing, Packing::default());
    assert_eq!(pack(&[5, 7], &none).packing.short, vec![0, 1]);
}
