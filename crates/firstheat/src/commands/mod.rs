//! Commands as they are typed, and what they answer.

mod calc;
mod design;
mod explain;
mod finish;

pub(crate) use explain::{held_at, nearest, section};

use crate::papers::Paper;
use crate::worked::Worked;
use crate::{job_file, report, web};
use ::design::Memo;
use clap::{Parser, Subcommand};
use job::Library;
use std::net::SocketAddr;
use std::path::{Path, PathBuf};

/// All is well.
pub(crate) const FINE: u8 = 0;
/// Something was found that stops the job.
pub(crate) const STOPPED: u8 = 1;
/// The input is of no use.
pub(crate) const UNUSABLE: u8 = 2;

/// Designs floor heating from what was surveyed.
#[derive(Parser)]
#[command(name = "firstheat", version, about, after_help = CAUTION)]
struct Line {
    #[command(subcommand)]
    command: Option<Command>,
}

const CAUTION: &str = "Without a command, the pages open on an example job.\n\
    A design aid: code in force, the inspector and makers' instructions govern.";

#[derive(Subcommand)]
enum Command {
    /// Tells every problem of a job, at its line.
    Check {
        /// The job file.
        job: PathBuf,
    },
    /// Designs a job and prints or writes its papers.
    Design {
        /// The job file.
        job: PathBuf,
        /// The paper that is printed.
        #[arg(long, value_enum, default_value_t)]
        paper: Paper,
        /// Folder to write all papers to: plans, tables, sheets.
        #[arg(long)]
        out: Option<PathBuf>,
        /// Prints JSON instead of text.
        #[arg(long)]
        json: bool,
        /// Outdoor temperature of the mild day on the paper of floor temperatures, such as "40 F".
        #[arg(long)]
        outdoor: Option<String>,
    },
    /// Tells how a number came about; without a path, lists what can be asked.
    Explain {
        /// The job file.
        job: PathBuf,
        /// The path of the number, such as room.kitchen.loss.
        path: Option<String>,
        /// How many steps down the working is told.
        #[arg(long, default_value_t = 4)]
        depth: usize,
    },
    /// Tells what another finish on a floor would do, its tube as designed.
    Finish {
        /// The job file.
        job: PathBuf,
        /// The room's key.
        room: String,
        /// The other finish, by its catalogue key.
        finish: String,
        /// Prints JSON instead of text.
        #[arg(long)]
        json: bool,
    },
    /// Works out one law from values such as thickness="4 in".
    Calc {
        /// The law.
        name: Option<String>,
        /// Its inputs as name=value; a bare number is in SI.
        values: Vec<String>,
        /// Prints JSON instead of text.
        #[arg(long)]
        json: bool,
        /// Lists all laws.
        #[arg(long)]
        list: bool,
    },
    /// Opens the pages on a job, or on an example.
    Serve {
        /// The job file.
        job: Option<PathBuf>,
        /// Address and port; without it port 8321 of this machine, or a free one.
        #[arg(long)]
        addr: Option<SocketAddr>,
        /// Allows an address that other machines can reach.
        #[arg(long)]
        open_to_network: bool,
    },
}

/// What a command printed, and how it ended.
pub(crate) struct Done {
    pub(crate) out: String,
    pub(crate) err: String,
    pub(crate) code: u8,
}

impl Done {
    fn fine(out: String) -> Self {
        Done { out, err: String::new(), code: FINE }
    }

    fn unusable(message: impl std::fmt::Display) -> Self {
        Done { out: String::new(), err: format!("firstheat: {message}\n"), code: UNUSABLE }
    }
}

/// Runs the command of this process.
pub(crate) fn run() -> Done {
    let line = match Line::try_parse() {
        Ok(line) => line,
        Err(error) => return refused(&error),
    };
    let command =
        line.command.unwrap_or(Command::Serve { job: None, addr: None, open_to_network: false });
    match command {
        Command::Check { job } => check(&job),
        Command::Design { job, paper, out, json, outdoor } => {
            design::design(&job, paper, out.as_deref(), json, outdoor.as_deref())
        }
        Command::Explain { job, path, depth } => explain::explain(&job, path.as_deref(), depth),
        Command::Finish { job, room, finish, json } => finish::finish(&job, &room, &finish, json),
        Command::Calc { name, values, json, list } => {
            calc::calc(name.as_deref(), &values, json, list)
        }
        Command::Serve { job, addr, open_to_network } => web::serve(job, addr, open_to_network),
    }
}

/// Help and version are fine; everything else is not.
fn refused(error: &clap::Error) -> Done {
    let text = error.to_string();
    if error.use_stderr() {
        Done { out: String::new(), err: text, code: UNUSABLE }
    } else {
        Done::fine(text)
    }
}

/// Reads and designs the job of a file.
fn work_out(path: &Path) -> Result<Worked, Done> {
    let text = job_file::read(path).map_err(Done::unusable)?;
    Ok(Worked::out_of(text, &Library::built_in(), &mut Memo::new()))
}

fn check(path: &Path) -> Done {
    let worked = match work_out(path) {
        Ok(worked) => worked,
        Err(done) => return done,
    };
    let out = report::report(&path.display().to_string(), &worked.text, &worked.findings());
    let code = if worked.stops() { STOPPED } else { FINE };
    Done { out, err: String::new(), code }
}
