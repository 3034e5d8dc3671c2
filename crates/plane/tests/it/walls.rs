//! Facing walls.

use plane::edges::facing;

use crate::near;
use crate::plans::points;

#[test]
fn a_party_wall_is_one_stretch() {
    let left = points(&[(0.0, 0.0), (3.0, 0.0), (3.0, 4.0), (0.0, 4.0)]);
    let right = points(&[(3.15, 1.0), (6.0, 1.0), (6.0, 6.0), (3.15, 6.0)]);
    let found = facing(&left, &right, 0.3);
    assert_eq!(found.len(), 1);
    let wall = found[0];
    assert_eq!(wall.edges, [1, 3]);
    near(wall.gap_m, 0.15, 1e-12);
    near(wall.length_m(), 3.0, 1e-12);
    near(wall.on_first_m[0], 1.0, 1e-12);
    near(wall.on_first_m[1], 4.0, 1e-12);
    // The second edge runs down from y = 6.
    near(wall.on_second_m[0], 2.0, 1e-12);
    near(wall.on_second_m[1], 5.0, 1e-12);
    assert!(facing(&left, &right, 0.1).is_empty(), "too far apart");
}

#[test]
fn backs_of_walls_do_not_face() {
    let left = points(&[(0.0, 0.0), (3.0, 0.0), (3.0, 4.0), (0.0, 4.0)]);
    // The far wall of the right room looks the same way as the near one's wall.
    let inside = points(&[(2.0, 1.0), (2.9, 1.0), (2.9, 2.0), (2.0, 2.0)]);
    assert!(facing(&left, &inside, 0.3).is_empty());
}

#[test]
fn slightly_skewed_walls_face_with_their_mean_gap() {
    let left = points(&[(0.0, 0.0), (3.0, 0.0), (3.0, 4.0), (0.0, 4.0)]);
    let skew = points(&[(3.1, 0.0), (6.0, 0.0), (6.0, 4.0), (3.3, 4.0)]);
    let found = facing(&left, &skew, 0.3);
    assert_eq!(found.len(), 1);
    near(found[0].gap_m, 0.2, 1e-9);
    let steep = points(&[(3.1, 0.0), (6.0, 0.0), (6.0, 4.0), (3.4, 4.0)]);
    assert!(facing(&left, &steep, 0.5).is_empty(), "4.3 degrees are not parallel");
}
