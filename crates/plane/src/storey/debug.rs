use super::draft::Ground;
use super::free::Free;
use super::plan::Plan;
use super::search::Search;
use super::{curve, ways};
use std::fmt::Write;
const COLOURS: [&str; 10] = ["#1f77b4","#ff7f0e","#2ca02c","#d62728","#9467bd","#8c564b","#e377c2","#7f7f7f","#bcbd22","#17becf"];
pub fn debug_svg(plan: &Plan) -> (String, String) {
    let free = plan.rooms.iter().map(Free::of).collect();
    let ground = Ground { plan, free, ways: ways::ways(plan) };
    let mut search = Search::new(&ground, 0);
    let mut s = String::new();
    let found = match search.found() { Ok(f) => f, Err(e) => return (s, format!("{e:?}")) };
    let d = &found.draft;
    let lengths = ground.lengths_m(d, 0);
    for (z, zone) in d.net.zones.iter().enumerate() {
        let col = COLOURS[z % 10];
        if let Some(f) = &d.floors[z] {
            for ring in f.rings() { let p: Vec<String> = ring.iter().map(|p| format!("{},{}", p.x, p.y)).collect();
            write!(s, "<polygon points='{}' fill='{col}' fill-opacity='0.2' stroke='{col}' stroke-width='0.01'/>", p.join(" ")).unwrap(); }
        }
        if !zone.own { continue; }
        for side in [-0.5, 0.5] {
            let t = curve::beside(&d.leaders[z], side * d.gauge.half_m);
            let p: Vec<String> = t.chords(0.001).iter().map(|p| format!("{},{}", p.x, p.y)).collect();
            write!(s, "<polyline points='{}' stroke='{col}' stroke-width='0.02'/>", p.join(" ")).unwrap();
        }
    }
    let rmin = d.leaders.iter().flat_map(|l| l.bends()).map(|b| b.radius_m).fold(9.0, f64::min) - d.gauge.half_m / 2.0;
    (s, format!("h {:.3} inset {:.3} rmin {rmin:.3} {:?}", d.gauge.half_m, d.gauge.inset_m, lengths.iter().enumerate().filter(|(z, _)| d.net.zones[*z].own).map(|(z, l)| format!("{}:{:.0}", plan.rooms[d.net.zones[z].room].key, l)).collect::<Vec<_>>()))
}
