//! Shortest ways against closed forms.

use plane::route::{Door, Floor, shortest};
use plane::{Point, Region};

use crate::near;
use crate::plans::points;

fn room(low: (f64, f64), high: (f64, f64)) -> Region {
    Region::rectangle(Point::new(low.0, low.1), Point::new(high.0, high.1)).unwrap()
}

fn door(rooms: [usize; 2], a: (f64, f64), b: (f64, f64)) -> Door {
    let at = [Point::new(a.0, a.1), Point::new(b.0, b.1)];
    Door { rooms, at, width_m: at[0].distance(at[1]), passable: true }
}

/// Three rooms in a row with walls of 0.2 m, and a way round through a fourth.
fn four_rooms() -> Floor {
    Floor {
        rooms: vec![
            room((0.0, 0.0), (3.0, 3.0)),
            room((3.2, 0.0), (6.2, 3.0)),
            room((6.4, 0.0), (9.4, 3.0)),
            room((0.0, 3.2), (9.4, 5.2)),
        ],
        doors: vec![
            door([0, 1], (3.1, 0.5), (3.1, 1.5)),
            door([1, 2], (6.3, 0.5), (6.3, 1.5)),
            door([0, 3], (1.0, 3.1), (2.0, 3.1)),
            door([2, 3], (7.0, 3.1), (8.0, 3.1)),
        ],
    }
}

#[test]
fn an_l_corner_is_turned_at_the_corner() {
    let l = points(&[(0.0, 0.0), (6.0, 0.0), (6.0, 3.0), (3.0, 3.0), (3.0, 7.0), (0.0, 7.0)]);
    let floor = Floor { rooms: vec![Region::simple(l).unwrap()], doors: Vec::new() };
    let route = shortest(&floor, (0, Point::new(2.0, 7.0)), (0, Point::new(6.0, 2.0))).unwrap();
    let expected = (1.0f64 + 16.0).sqrt() + (9.0f64 + 1.0).sqrt();
    near(route.length_m, expected, 1e-9);
    assert_eq!(route.points.len(), 3);
    assert_eq!(route.points[1], Point::new(3.0, 3.0));
    near(route.rooms[0].1, expected, 1e-9);
}

#[test]
fn an_island_is_passed_on_the_shorter_side() {
    let outer = points(&[(0.0, 0.0), (6.0, 0.0), (6.0, 6.0), (0.0, 6.0)]);
    let island = points(&[(2.0, 1.0), (4.0, 1.0), (4.0, 4.0), (2.0, 4.0)]);
    let floor = Floor { rooms: vec![Region::new(outer, vec![island]).unwrap()], doors: vec![] };
    let route = shortest(&floor, (0, Point::new(0.0, 2.0)), (0, Point::new(6.0, 2.0))).unwrap();
    near(route.length_m, 2.0 + 2.0 * 5f64.sqrt(), 1e-9);
}

#[test]
fn doorways_are_crossed_straight() {
    let route =
        shortest(&four_rooms(), (0, Point::new(1.0, 1.0)), (2, Point::new(8.0, 1.0))).unwrap();
    near(route.length_m, 7.0, 1e-9);
    assert_eq!(route.doors, [0, 1]);
    let rooms: Vec<usize> = route.rooms.iter().map(|r| r.0).collect();
    assert_eq!(rooms, [0, 1, 2]);
    // Half of each wall of 0.2 m counts to either side.
    near(route.rooms[0].1, 2.1, 1e-9);
    near(route.rooms[1].1, 3.2, 1e-9);
    near(route.rooms[2].1, 1.7, 1e-9);
}

#[test]
fn closed_doors_are_gone_round() {
    let mut floor = four_rooms();
    floor.doors[1].passable = false;
    let ends = ((0, Point::new(1.5, 1.0)), (2, Point::new(7.5, 1.0)));
    let route = shortest(&floor, ends.0, ends.1).unwrap();
    assert_eq!(route.doors, [2, 3]);
    near(route.length_m, 2.2 + 6.0 + 2.2, 1e-9);
    floor.doors[3].passable = false;
    assert_eq!(shortest(&floor, ends.0, ends.1), None);
}

#[test]
fn wrong_ends_give_no_way() {
    let floor = four_rooms();
    let at = Point::new(1.0, 1.0);
    assert_eq!(shortest(&floor, (9, at), (0, at)), None);
    assert_eq!(shortest(&floor, (0, Point::new(f64::NAN, 1.0)), (0, at)), None);
    assert_eq!(shortest(&floor, (0, Point::new(-5.0, 1.0)), (0, at)), None);
    let in_wall = shortest(&floor, (0, Point::new(-0.1, 1.0)), (0, at)).unwrap();
    near(in_wall.length_m, 1.1, 1e-9);
    near(shortest(&floor, (0, at), (0, at)).unwrap().length_m, 0.0, 1e-12);
}
