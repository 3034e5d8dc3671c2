//! What another finish on a room's floor would do.

use super::{Done, FINE, STOPPED, work_out};
use ::design::{Memo, finish_later};
use job::Severity;
use std::path::Path;

pub(crate) fn finish(job: &Path, room: &str, finish: &str, json: bool) -> Done {
    let worked = match work_out(job) {
        Ok(worked) => worked,
        Err(done) => return done,
    };
    match finish_later(&worked.job, &worked.design, room, finish, &mut Memo::new()) {
        Ok(later) => {
            let first = worked.job.units.value;
            let sheet = sheets::finish_sheet(&worked.job, &worked.text, &later, first);
            let out = if json { sheets::json(&sheet) } else { sheets::text(&sheet, 100) };
            let stops = later.comes.iter().any(|finding| finding.severity == Severity::Stop);
            let code = if stops { STOPPED } else { FINE };
            Done { out, err: String::new(), code }
        }
        Err(why) => Done::unusable(why),
    }
}
