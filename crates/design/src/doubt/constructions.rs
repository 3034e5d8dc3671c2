//! How far the constructions may be off.

use super::DoubtItem;
use crate::envelope::{Behind, Envelope};
use crate::loads::Loads;
use job::{Assembly, Construction, Job};
use quantity::{Power, Quantity};

/// Rated U-values as built against as rated, as a share: frames, spacers, fitting.
const RATED: f64 = 0.10;
/// Layers as built against as stated: moisture, gaps, thickness.
const LAYERS: f64 = 0.15;

/// Each construction that heat leaves the house through.
pub(super) fn items(job: &Job, envelope: &Envelope, loads: &Loads) -> Vec<DoubtItem> {
    let varied = |assembly: &Assembly| item(assembly, lost_w(&assembly.key, envelope, loads));
    job.assemblies.iter().filter_map(varied).collect()
}

fn item(assembly: &Assembly, lost_w: f64) -> Option<DoubtItem> {
    let (share, taken) = match assembly.construction.as_ref()? {
        Construction::Rated(_) => (RATED, "its rated U-value"),
        Construction::Layers(_) => (LAYERS, "the layers as stated"),
    };
    let per_cent = (share * 100.0).round();
    Some(DoubtItem {
        what: format!("how {} is really built", assembly.key.replace(['_', '-'], " ")),
        taken: taken.to_owned(),
        low: format!("{per_cent} % less heat through it"),
        high: format!("{per_cent} % more heat through it"),
        effect: [-share * lost_w, share * lost_w].map(Power::from_si),
        convention: false,
    })
}

/// Heat that leaves the house through faces of that construction.
fn lost_w(assembly: &str, envelope: &Envelope, loads: &Loads) -> f64 {
    let mut watts = 0.0;
    for enclosure in &envelope.enclosures {
        let Some(loss) = loads.room(&enclosure.room) else { continue };
        for face in enclosure.faces.iter().filter(|face| face.assembly.as_deref() == Some(assembly))
        {
            let leaves = !matches!(face.behind, Behind::Room(_) | Behind::Heated);
            let own = |lost: &&crate::loads::FaceLoss| {
                leaves && lost.face == face.key && lost.behind == face.behind
            };
            watts += loss.faces.iter().filter(own).map(|lost| lost.loss.si()).sum::<f64>();
        }
    }
    watts
}
