//! What the server keeps: the file it serves, the memo, and the last few texts worked out.

use crate::job_file;
use crate::worked::{Worked, key_of};
use design::Memo;
use job::Library;
use std::collections::VecDeque;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

/// The example that is shown when no file is named.
const EXAMPLE: &str = include_str!("../../../../jobs/cabin.toml");

/// How many worked-out texts are kept for links to their numbers and papers.
const KEPT: usize = 24;

/// One running server.
pub(crate) struct Server {
    file: Option<PathBuf>,
    pub(crate) open_to_network: bool,
    shelf: Library,
    memo: Mutex<Memo>,
    kept: Mutex<VecDeque<(String, Arc<Worked>)>>,
}

impl Server {
    /// A server of that file, which must be readable now, or of the example.
    pub(crate) fn new(file: Option<PathBuf>, open_to_network: bool) -> Result<Self, String> {
        if let Some(file) = &file {
            job_file::read(file)?;
        }
        Ok(Server {
            file,
            open_to_network,
            shelf: Library::built_in(),
            memo: Mutex::new(Memo::new()),
            kept: Mutex::new(VecDeque::new()),
        })
    }

    /// The file that is served; none for the example.
    pub(crate) fn file(&self) -> Option<&PathBuf> {
        self.file.as_ref()
    }

    /// What is served, for a person.
    pub(crate) fn name(&self) -> String {
        match &self.file {
            Some(file) => file.display().to_string(),
            None => "the example job".to_owned(),
        }
    }

    /// The name under which a copy is downloaded.
    pub(crate) fn file_name(&self) -> String {
        let name = self.file.as_ref().and_then(|it| it.file_name());
        name.map_or_else(|| "job.toml".to_owned(), |it| it.to_string_lossy().into_owned())
    }

    /// The text as it is on disk now, with plain line ends, or the example.
    pub(crate) fn on_disk(&self) -> Result<String, String> {
        match &self.file {
            Some(file) => job_file::read(file).map(|text| text.replace("\r\n", "\n")),
            None => Ok(EXAMPLE.to_owned()),
        }
    }

    /// Works a text out, or recalls it. Takes long; call it where it may block.
    pub(crate) fn work_out(&self, text: String) -> Arc<Worked> {
        let key = key_of(&text);
        if let Some(known) = self.kept(&key).filter(|known| known.text == text) {
            return known;
        }
        let worked = Arc::new(Worked::out_of(text, &self.shelf, &mut open(&self.memo)));
        let mut kept = open(&self.kept);
        kept.retain(|(known, _)| *known != key);
        kept.push_back((key, worked.clone()));
        while kept.len() > KEPT {
            kept.pop_front();
        }
        worked
    }

    /// Asks something that the memo makes quicker. Takes long; call it where it may block.
    pub(crate) fn with_memo<T>(&self, ask: impl FnOnce(&mut Memo) -> T) -> T {
        ask(&mut open(&self.memo))
    }

    /// A text that was worked out before, by its key.
    pub(crate) fn kept(&self, key: &str) -> Option<Arc<Worked>> {
        let mut kept = open(&self.kept);
        let place = kept.iter().position(|(known, _)| known == key)?;
        // What is asked for stays longest.
        let found = kept.remove(place)?;
        let worked = found.1.clone();
        kept.push_back(found);
        Some(worked)
    }
}

/// The content of a lock; a panic elsewhere leaves nothing half done in these.
fn open<T>(lock: &Mutex<T>) -> MutexGuard<'_, T> {
    lock.lock().unwrap_or_else(PoisonError::into_inner)
}
