//! Splits conserve area and keep to the wall of the entry.

use plane::split::{side_by_side, weighted};
use plane::{Point, Region};

use crate::near;
use crate::plans;

#[test]
fn a_rectangle_is_cut_square_to_the_wall() {
    let plan = plans::rectangle();
    let shares = side_by_side(&plan.region, plan.entry, 4);
    assert_eq!(shares.len(), 4);
    for (share, entry) in &shares {
        near(share.area_m2(), 5.0, 1e-4);
        near(entry.y, 0.0, 1e-6);
        near(share.boundary_distance_m(*entry), 0.0, 1e-6);
    }
}

#[test]
fn all_plans_keep_their_area() {
    for plan in plans::all() {
        for count in 1..=5 {
            let shares = side_by_side(&plan.region, plan.entry, count);
            let sum: f64 = shares.iter().map(|s| s.0.area_m2()).sum();
            near(sum, plan.region.area_m2(), 1e-4);
            assert!(shares.len() <= count, "{}: {} of {count}", plan.name, shares.len());
            for (i, (one, _)) in shares.iter().enumerate() {
                for (other, _) in &shares[i + 1..] {
                    near(one.overlap_area_m2(other), 0.0, 1e-4);
                }
            }
        }
    }
}

#[test]
fn weights_are_kept() {
    let plan = plans::rectangle();
    let shares = weighted(&plan.region, plan.entry, &[1.0, 3.0]);
    near(shares[0].0.area_m2() / shares[1].0.area_m2(), 1.0 / 3.0, 1e-4);
    let odd = weighted(&plan.region, plan.entry, &[f64::NAN, -1.0, 0.0]);
    assert_eq!(odd.len(), 3);
    let same = side_by_side(&plan.region, Point::new(f64::NAN, 0.0), 2);
    near(same.iter().map(|s| s.0.area_m2()).sum(), 20.0, 1e-4);
}

#[test]
fn an_island_does_not_lose_floor() {
    let island = plans::points(&[(1.9, 1.0), (2.1, 1.0), (2.1, 4.0), (1.9, 4.0)]);
    let outer = plans::rectangle().region.outer().to_vec();
    let region = Region::new(outer, vec![island]).unwrap();
    let shares = side_by_side(&region, Point::new(0.0, 2.5), 3);
    near(shares.iter().map(|s| s.0.area_m2()).sum(), region.area_m2(), 1e-4);
}
