//! Everything the text is silent about, gathered from facts and workings.

use crate::source::Source;
use crate::tables::shown_both;
use design::{How, Work};
use job::{Faces, Fact, Fluid, Job, Origin, Room, RoomUse};
use quantity::{Quantity, System};
use std::collections::BTreeSet;
use std::sync::Arc;

/// One thing that was assumed.
pub(crate) struct Assumed {
    pub(crate) item: String,
    /// What it holds for, where it is not the whole job.
    pub(crate) of: Vec<String>,
    pub(crate) value: String,
    pub(crate) why: String,
}

impl Assumed {
    /// All of it: facts of the job first, then what only the design assumed.
    pub(crate) fn all(source: &Source) -> Vec<Assumed> {
        let mut list = List { first: source.job.units.value, items: Vec::new() };
        whole_job(&mut list, source.job);
        for room in &source.job.rooms {
            of_room(&mut list, room);
        }
        for manifold in &source.job.manifolds {
            list.quantity("height of the manifold", &manifold.key, &manifold.height);
            list.quantity("free tail at each tube end", &manifold.key, &manifold.tail);
        }
        workings(&mut list, source);
        list.items
    }
}

fn whole_job(list: &mut List, job: &Job) {
    let (outdoors, house, heating) = (&job.outdoors, &job.house, &job.heating);
    if let Some(mean) = &outdoors.annual_mean {
        list.quantity("outdoor temperature, mean of the year", "", mean);
    }
    list.quantity("height above the sea", "", &outdoors.altitude);
    list.quantity("conductivity of the ground", "", &outdoors.ground);
    list.quantity("air changes", "", &house.air_changes);
    list.quantity("thickest wall between rooms", "", &house.thickest_wall);
    let fluid = |fluid: &Fluid| match fluid {
        Fluid::Water => "water".to_owned(),
        Fluid::PropyleneGlycol => "water with propylene glycol".to_owned(),
    };
    list.words("fluid", "", &heating.fluid, fluid);
    if heating.fluid.value != Fluid::Water {
        list.quantity("glycol by volume", "", &heating.glycol);
    }
    list.words("rule set", "", &job.rules_named, String::clone);
}

fn of_room(list: &mut List, room: &Room) {
    let name = room.name.value.as_str();
    list.quantity("indoor temperature", name, &room.indoor);
    if let Some(height) = &room.height {
        list.quantity("ceiling height", name, height);
    }
    let used = |used: &RoomUse| match used {
        RoomUse::Living => "people stay in it".to_owned(),
        RoomUse::Bath => "bath".to_owned(),
        RoomUse::Utility => "nobody stays in it".to_owned(),
    };
    list.words("use", name, &room.used_as, used);
    let heated = |heated: &bool| if *heated { "heated" } else { "not heated" }.to_owned();
    list.words("heated floor", name, &room.heated, heated);
    list.words("floor finish", name, &room.finish, String::clone);
    list.words("above the ceiling", name, &room.above, faces);
    list.words("below the floor", name, &room.below, faces);
}

fn faces(faces: &Faces) -> String {
    match faces {
        Faces::Outdoors => "outdoors, or as cold as outdoors".to_owned(),
        Faces::Ground => "the ground".to_owned(),
        Faces::Heated => "a heated space".to_owned(),
        Faces::NextHouse => "the next house".to_owned(),
        Faces::Space(key) => format!("space {key}"),
        Faces::Room(key) => format!("room {key}"),
    }
}

/// What a working assumed and no fact of the job has told already.
fn workings(list: &mut List, source: &Source) {
    let mut seen = BTreeSet::new();
    let mut open: Vec<Arc<Work>> =
        source.design.figures().into_iter().rev().map(|(_, work)| work).collect();
    while let Some(work) = open.pop() {
        if !seen.insert(Arc::as_ptr(&work).addr()) {
            continue;
        }
        if let How::Assumed(why) = &work.how
            && !list.items.iter().any(|it| it.why == *why)
        {
            let value = shown_both(work.si, work.measure, list.first);
            list.add(&work.name, "", value, why);
        }
        open.extend(work.inputs().into_iter().cloned());
    }
}

struct List {
    first: System,
    items: Vec<Assumed>,
}

impl List {
    fn quantity<Q: Quantity>(&mut self, item: &str, of: &str, fact: &Fact<Q>) {
        let first = self.first;
        self.words(item, of, fact, |value| shown_both(value.si(), Q::MEASURE, first));
    }

    fn words<T>(&mut self, item: &str, of: &str, fact: &Fact<T>, shown: impl Fn(&T) -> String) {
        if let Origin::Assumed(why) = &fact.origin {
            self.add(item, of, shown(&fact.value), why);
        }
    }

    /// Adds it, or adds `of` to an equal assumption made before.
    fn add(&mut self, item: &str, of: &str, value: String, why: &str) {
        let same = |it: &&mut Assumed| it.item == item && it.value == value && it.why == why;
        let of: Vec<String> = (!of.is_empty()).then(|| of.to_owned()).into_iter().collect();
        match self.items.iter_mut().find(same) {
            Some(known) => known.of.extend(of),
            None => {
                let (item, why) = (item.to_owned(), why.to_owned());
                self.items.push(Assumed { item, of, value, why });
            }
        }
    }
}
