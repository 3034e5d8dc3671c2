//! Random rooms: a sound loop or a plain refusal, never a panic.

use plane::fill::{FillSpec, counterflow};
use plane::{Point, Region, split, verify};
use proptest::prelude::*;

use crate::plans::points;

/// Rooms of one to four unit-less steps, corners moved by up to a decimetre.
fn stepped_room() -> impl Strategy<Value = Vec<Point>> {
    let step = (0.5f64..2.2, 0.5f64..4.0);
    let nudge = prop::collection::vec((-0.1f64..0.1, -0.1f64..0.1), 16);
    (prop::collection::vec(step, 1..5), nudge, any::<bool>()).prop_map(|(steps, nudge, skewed)| {
        let mut x = 0.0;
        let mut top = Vec::new();
        for (width, height) in steps {
            top.push((x, height));
            x += width;
            top.push((x, height));
        }
        let mut corners = vec![(0.0, 0.0), (x, 0.0)];
        corners.extend(top.into_iter().rev());
        if skewed {
            corners = corners.iter().zip(&nudge).map(|(c, n)| (c.0 + n.0, c.1 + n.1)).collect();
        }
        points(&corners)
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, rng_seed: prop::test_runner::RngSeed::Fixed(7), ..ProptestConfig::default() })]

    #[test]
    fn loops_are_sound_or_refused(
        corners in stepped_room(),
        spacing_m in 0.1f64..0.3,
        at in 0.0f64..1.0,
        island in any::<bool>(),
    ) {
        let Ok(mut region) = Region::simple(corners) else { return Ok(()) };
        if island {
            let (low, high) = region.bounds();
            let c = low.lerp(high, 0.45);
            let ring = points(&[(c.x, c.y), (c.x + 0.4, c.y), (c.x + 0.4, c.y + 0.3), (c.x, c.y + 0.3)]);
            let mut left = region.difference(&[ring]).unwrap_or_default();
            left.sort_by(|a, b| b.area_m2().total_cmp(&a.area_m2()));
            region = left.swap_remove(0);
        }
        let rim = region.outer();
        let n = rim.len() as f64 * at;
        let i = (n as usize).min(rim.len() - 1);
        let entry = rim[i].lerp(rim[(i + 1) % rim.len()], n.fract());
        let spec = FillSpec { spacing_m, wall_clearance_m: 0.1, bend_radius_m: 0.08 };
        if let Ok(fill) = counterflow(&region, entry, &spec) {
            let paths = std::slice::from_ref(&fill.path);
            prop_assert_eq!(verify::crossings(paths), []);
            prop_assert_eq!(verify::faults(&fill.path), []);
            prop_assert_eq!(verify::outside_m(&fill.path, &region), 0.0);
            let again = counterflow(&region, entry, &spec);
            prop_assert_eq!(again.as_ref(), Ok(&fill));
        }
        for count in 1..4 {
            let shares = split::side_by_side(&region, entry, count);
            let sum: f64 = shares.iter().map(|s| s.0.area_m2()).sum();
            prop_assert!((sum - region.area_m2()).abs() < 1e-4);
        }
    }

    #[test]
    fn any_corners_are_a_region_or_flawed(
        corners in prop::collection::vec((-4.0f64..4.0, -4.0f64..4.0), 0..7),
        spacing_m in 0.05f64..0.4,
    ) {
        if let Ok(region) = Region::simple(points(&corners)) {
            prop_assert!(region.area_m2() > 0.0);
            let spec = FillSpec { spacing_m, wall_clearance_m: 0.05, bend_radius_m: 0.08 };
            if let Ok(fill) = counterflow(&region, region.outer()[0], &spec) {
                prop_assert_eq!(verify::crossings(std::slice::from_ref(&fill.path)), []);
                prop_assert_eq!(verify::outside_m(&fill.path, &region), 0.0);
            }
        }
    }
}
