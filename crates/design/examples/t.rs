fn main() {
    let p = std::env::args().nth(1).unwrap();
    let t = std::fs::read_to_string(p).unwrap();
    let lib = job::Library::built_in();
    let s = std::time::Instant::now();
    let (j, f) = job::read(&t, &lib);
    let r = s.elapsed();
    for x in &f {
        println!("READ {:?} {} {} | {}", x.severity, x.kind, x.subject, x.message);
    }
    let mut m = design::Memo::new();
    let s = std::time::Instant::now();
    let d = design::design(&j, &mut m);
    println!("read {r:?} design {:?}", s.elapsed());
    let s = std::time::Instant::now();
    let d2 = design::design(&j, &mut m);
    println!("again {:?} same {}", s.elapsed(), d == d2);
    for x in &d.findings {
        println!(
            "{:?} {} {} | {} | {:?} | {:?}",
            x.severity,
            x.kind,
            x.subject,
            x.message,
            x.limit,
            x.mends.iter().map(|m| &m.words).collect::<Vec<_>>()
        );
    }
    for l in &d.loads.rooms {
        println!(
            "{} out {:.0} gnd {:.0} nb {:.0} air {:.0} tot {:.0} W  per {:.1}",
            l.room,
            l.outdoors.si(),
            l.ground.si(),
            l.neighbours.si(),
            l.air.si(),
            l.total.si(),
            l.per_area.as_ref().unwrap().si()
        );
    }
    println!("supply {:?} gov {:?} {:?}", d.emitters.supply, d.emitters.governing, d.balance);
    for e in &d.emitters.floors {
        println!(
            "{} A {:.1} s {:?} K {:.2} need {:.0} q {:.1} limit {:.1} out {:.0} short {:.1} qd {:.1} surf {:.1} lim {:.1}  supneed {:.1}",
            e.room,
            e.area.si(),
            e.spacing,
            e.output_coefficient.si(),
            e.needed.si(),
            e.flux.si(),
            0.0,
            e.output.si(),
            e.short.si(),
            e.flux_down.si(),
            e.surface.si() - 273.15,
            e.surface_limit.si() - 273.15,
            e.supply_needed.si() - 273.15
        );
    }
    for (l, f) in d.loops.iter().zip(&d.flows.loops) {
        println!(
            "{} A {:.1} field {:.1} leader {:.1} tail {:.1} tot {:.1} cov {:.3} tight {} laid {:.3} | up {:.0} dn {:.0} ld {:.0} ret {:.1} flow {:.2} L/min v {:.2} Re {:.0} head {:.2}",
            l.key,
            l.area.si(),
            l.field_length.si(),
            l.leader_length.si(),
            l.tail_length.si(),
            l.length.si(),
            l.covered.si(),
            l.tight_bends.len(),
            l.spacing_laid_m,
            f.heat_up.si(),
            f.heat_down.si(),
            f.leader_heat.si(),
            f.back.si() - 273.15,
            f.flow.si() * 60000.,
            f.velocity.si(),
            f.reynolds.si(),
            f.head.si()
        );
    }
    for m in &d.flows.manifolds {
        println!(
            "{} {:?} flow {:.2} head {:.2} heat {:.0} ret {:.1}",
            m.key,
            m.worst,
            m.flow.si() * 60000.,
            m.head.si(),
            m.heat.si(),
            m.back.si() - 273.15
        );
    }
    println!("{:?}", d.revisions);
}
