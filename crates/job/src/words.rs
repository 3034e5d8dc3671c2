//! The words of choices, in the job file, the catalogue and the rule sets.

use crate::model::{
    BayBlockKind, BlowerDoorMethod, BuildUpKind, Carrier, Dimensions, DropRule, EdgeKind,
    EmitterKind, Family, Films, FinishKind, FixtureKind, Fluid, GroundMethod, JointKind, JoistKind,
    NextHouse, OpeningKind, PartKind, PassageKind, RoomUse, SpaceKind, SupplyRule, TubePattern,
    UnheatedMethod, WarmerNeighbours,
};

/// Something that is named by one of a few words.
pub(crate) trait Words: Copy + PartialEq + 'static {
    /// Each word with what it means.
    const WORDS: &'static [(&'static str, Self)];

    /// What a word means.
    fn named(word: &str) -> Option<Self> {
        Self::WORDS.iter().find(|(known, _)| *known == word).map(|(_, meant)| *meant)
    }

    /// The word for it.
    fn word(self) -> &'static str {
        Self::WORDS.iter().find(|(_, meant)| *meant == self).map_or("", |(word, _)| word)
    }
}

macro_rules! words {
    ($($name:ident: $($word:literal = $meant:ident),*;)*) => {
        $(impl Words for $name {
            const WORDS: &'static [(&'static str, Self)] = &[$(($word, $name::$meant)),*];
        })*
    };
}

words! {
    Fluid: "water" = Water, "propylene glycol" = PropyleneGlycol;
    TubePattern: "counterflow" = Counterflow, "serpentine" = Serpentine,
        "doubled serpentine" = DoubledSerpentine, "perimeter band" = PerimeterBand;
    RoomUse: "living" = Living, "bath" = Bath, "utility" = Utility;
    OpeningKind: "window" = Window, "door" = Door, "skylight" = Skylight;
    SpaceKind: "attic" = Attic, "crawlspace" = Crawlspace, "garage" = Garage,
        "basement" = Basement, "store" = Store;
    Carrier: "screed" = Screed, "board" = Board, "plates" = Plates,
        "bare" = Bare;
    Family: "other" = Other, "concrete" = Concrete, "screed" = Screed,
        "gypsum topping" = GypsumTopping, "gypsum board" = GypsumBoard, "wood" = Wood;
    FinishKind: "bare" = Bare, "stone" = Stone, "resilient" = Resilient, "wood" = Wood,
        "textile" = Textile;
    BuildUpKind: "floor" = Floor, "wall" = Wall, "ceiling" = Ceiling;
    BayBlockKind: "nothing passes" = NothingPasses, "no plate" = NoPlate;
    FixtureKind: "toilet flange" = ToiletFlange, "wall plate" = WallPlate,
        "shot pins" = ShotPins, "door sill" = DoorSill;
    JointKind: "movement" = Movement, "saw cut" = SawCut;
    JoistKind: "sawn" = Sawn, "i-joist" = IJoist, "open web" = OpenWeb;
    PassageKind: "doorway" = Doorway, "sleeve" = Sleeve, "through joists" = ThroughJoists,
        "under joists" = UnderJoists, "riser" = Riser;
    PartKind: "heat source" = HeatSource, "indirect tank" = IndirectTank, "buffer" = Buffer,
        "expansion tank" = ExpansionTank, "pump" = Pump, "mixing valve" = MixingValve,
        "separator" = Separator;
    EmitterKind: "radiator" = Radiator, "convector" = Convector, "towel rail" = TowelRail,
        "wall panel" = WallPanel, "ceiling panel" = CeilingPanel;
    Dimensions: "inside" = Inside, "outside" = Outside;
    SupplyRule: "all rooms" = AllRooms, "all but baths" = AllButBaths;
    DropRule: "own" = Own, "equal" = Equal;
    Films: "iso" = Iso, "ashrae" = Ashrae;
    WarmerNeighbours: "credited" = Credited, "shown" = Shown;
    GroundMethod: "iso 13370" = Iso13370, "edge factor" = EdgeFactor;
    EdgeKind: "none" = None, "vertical" = Vertical, "horizontal" = Horizontal, "full" = Full;
    UnheatedMethod: "factor" = Factor, "balance" = Balance;
    NextHouse: "same temperature" = SameTemperature, "halfway" = Halfway,
        "annual mean" = AnnualMean;
    BlowerDoorMethod: "divisor" = Divisor, "shielding" = Shielding;
}
