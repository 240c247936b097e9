//! Typesets in a process apart, which has bounds of memory and time. A shop's own layouts need them: a layout
//! is a program, and one that asks for all memory would end the whole run, with every other job in it. A batch
//! gains by it: each process has a memory of results to itself, which ends with it.
//!
//! The process is this program again. It is given layouts, fonts and page data on its standard input and
//! hands back the document; it opens no file. It serves one document after the other, so that a batch
//! pays for its start once on each thread. On Linux the system holds it to [`MEMORY`] (`RLIMIT_DATA`) and,
//! where nobody waits for it any more, to a time of work (`RLIMIT_CPU`). macOS takes both limits and holds
//! to that of time alone; Windows has neither. [`TIME`] is kept everywhere, by whoever waits.

use std::io::{self, BufReader, BufWriter};
use std::process::{Child, ChildStdin, Command, ExitCode, ExitStatus, Stdio};
use std::sync::mpsc::{self, Receiver, RecvTimeoutError};
use std::sync::{Mutex, PoisonError};
use std::time::Duration;

use serde::{Deserialize, Serialize};
use slableaf::base::layouts::Layouts;
use slableaf::base::source::SourceFile;
use slableaf::typeset::{
    Document, Faces, Failure, FontFile, Prepared, Renderer, alone, is_alone, read_parcel,
    write_parcel,
};

use crate::shell::terminal::{Error, Exit, Result};

/// The argument by which this program is told to be such a process.
pub const APART: &str = "--typeset-apart";

/// Bytes that the process may hold. A document of the built-in layouts takes a fifth of that.
const MEMORY: u64 = 1 << 30;
/// The time for one document. One of the built-in layouts takes less than a second.
const TIME: Duration = Duration::from_secs(30);

/// Documents that a process sets; then its memory of results is given back with it. A new one is as warm with
/// its second document as it ever will be.
const MOST: usize = 100;

/// Processes that typeset with the layouts and fonts of one shop.
#[derive(Default)]
pub struct ApartSetters {
    idle: Mutex<Vec<Setter>>,
}

/// Everything that outlives a document.
#[derive(Serialize, Deserialize)]
struct Workshop {
    /// The shop's own layouts: path, name and text.
    layouts: Vec<(String, String, String)>,
    /// Names of its font files; their bytes follow.
    fonts: Vec<String>,
}

#[derive(Serialize, Deserialize)]
struct Order<P> {
    prepared: P,
    /// True when no other core is to be used.
    alone: bool,
}

/// Pages of a document, and the numbers of those that were drawn; or the reason why there is none.
type Outcome = Result<(usize, Vec<usize>), Failure>;

type Reply = io::Result<(Outcome, Vec<Vec<u8>>)>;

/// A process that typesets.
struct Setter {
    child: Child,
    input: BufWriter<ChildStdin>,
    replies: Receiver<Reply>,
    /// Documents that it has set.
    set: usize,
}

impl ApartSetters {
    /// Typesets a document with the layouts and faces of a renderer.
    ///
    /// # Errors
    /// The process could not be started, or did not come to an end within its bounds.
    pub fn set(
        &self,
        renderer: &Renderer,
        prepared: &Prepared,
    ) -> Result<Result<Document, Failure>> {
        let order = Order { prepared, alone: is_alone() };
        let waiting = self.idle.lock().unwrap_or_else(PoisonError::into_inner).pop();
        // One that waited may have been ended from outside.
        let sent = waiting.and_then(|mut setter| setter.send(&order).ok().map(|()| setter));
        let mut setter = match sent {
            Some(setter) => setter,
            None => {
                let start = || -> io::Result<Setter> {
                    let mut setter = Setter::start(renderer)?;
                    setter.send(&order)?;
                    Ok(setter)
                };
                start().map_err(|error| {
                    let message =
                        format!("cannot start a process for the shop's own layouts: {error}");
                    Error::new(Exit::Files, message)
                })?
            }
        };
        let (outcome, pieces) = setter.reply(renderer.layouts())?;
        setter.set += 1;
        if setter.set < MOST {
            self.idle.lock().unwrap_or_else(PoisonError::into_inner).push(setter);
        }
        Ok(outcome.map(|(pages, numbers)| {
            let mut pieces = pieces.into_iter();
            let pdf = pieces.next().unwrap_or_default();
            Document { pdf, pages, pictures: numbers.into_iter().zip(pieces).collect() }
        }))
    }
}

impl Setter {
    fn start(renderer: &Renderer) -> io::Result<Self> {
        // The file may have been replaced by a newer one: then this still is the program that runs.
        let this = if cfg!(target_os = "linux") {
            "/proc/self/exe".into()
        } else {
            std::env::current_exe()?
        };
        let mut child = Command::new(this)
            .arg(APART)
            // Memory that is only reserved counts as held otherwise.
            .env("MIMALLOC_ARENA_EAGER_COMMIT", "0")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()?;
        let (Some(input), Some(output)) = (child.stdin.take(), child.stdout.take()) else {
            return Err(io::Error::other("it has no input or output"));
        };
        let (sender, replies) = mpsc::channel();
        std::thread::spawn(move || {
            let mut output = BufReader::new(output);
            loop {
                let reply = read_parcel(&mut output);
                let is_last = reply.is_err();
                if sender.send(reply).is_err() || is_last {
                    break;
                }
            }
        });
        let mut setter = Self { child, input: BufWriter::new(input), replies, set: 0 };
        let layouts = renderer.layouts();
        let own = layouts.below("").filter(|(path, _)| layouts.own(path).is_some());
        let fonts = renderer.faces().own();
        let workshop = Workshop {
            layouts: own
                .map(|(path, text)| (path.to_owned(), layouts.name(path), text.to_owned()))
                .collect(),
            fonts: fonts.iter().map(|font| font.name.clone()).collect(),
        };
        let fonts: Vec<&[u8]> = fonts.iter().map(|font| font.bytes.as_slice()).collect();
        write_parcel(&mut setter.input, &workshop, &fonts)?;
        Ok(setter)
    }

    fn send(&mut self, order: &Order<&Prepared>) -> io::Result<()> {
        write_parcel(&mut self.input, order, &order.prepared.bytes)
    }

    fn reply(&mut self, layouts: &Layouts) -> Result<(Outcome, Vec<Vec<u8>>)> {
        let why = match self.replies.recv_timeout(TIME) {
            Ok(Ok(reply)) => return Ok(reply),
            Err(RecvTimeoutError::Timeout) => {
                format!("need more than the {} seconds that they may have", TIME.as_secs())
            }
            Ok(Err(_)) | Err(RecvTimeoutError::Disconnected) => match self.child.wait() {
                Ok(status) => ended_by(status),
                Err(error) => format!("ended the typesetter: {error}"),
            },
        };
        let own: Vec<&str> = layouts.all_own().filter(|name| name.ends_with(".typ")).collect();
        Err(if own.is_empty() {
            Error::new(Exit::Paper, format!("the layouts {why}"))
        } else {
            Error::new(Exit::Paper, format!("the shop's own layouts {why}"))
                .help(format!("look at what is new in {}", own.join(", ")))
        })
    }
}

impl Drop for Setter {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// The end of the process in words that follow the layouts of the shop.
#[cfg(unix)]
fn ended_by(status: ExitStatus) -> String {
    use std::os::unix::process::ExitStatusExt;
    // An allocation that fails aborts a program, or ends it where it would be used; the system kills one
    // that takes what others need.
    const ABORT: i32 = 6;
    const KILL: i32 = 9;
    const SEGMENT: i32 = 11;
    match status.signal() {
        // Whoever else ends it sends the same signals.
        Some(ABORT | KILL | SEGMENT) => format!(
            "ended the typesetter ({status}): perhaps they ask for more memory than the {} MB that they may have",
            MEMORY >> 20
        ),
        _ => format!("ended the typesetter: {status}"),
    }
}

#[cfg(not(unix))]
fn ended_by(status: ExitStatus) -> String {
    format!("ended the typesetter: {status}")
}

/// Serves as such a process, until nobody asks any more.
pub fn serve() -> ExitCode {
    bounded::memory(MEMORY);
    let mut input = BufReader::new(io::stdin().lock());
    let mut output = BufWriter::new(io::stdout().lock());
    let mut work = || -> io::Result<()> {
        let (Workshop { layouts, fonts }, pieces) = read_parcel(&mut input)?;
        let mut all = Layouts::default();
        for (path, name, text) in layouts {
            all.replace(&path, SourceFile { name, text });
        }
        // They were sound where they came from.
        let fonts = fonts.iter().zip(pieces);
        let fonts: Vec<_> = fonts
            .filter_map(|(name, bytes)| FontFile::read(name, bytes).ok().map(Into::into))
            .collect();
        let faces = if fonts.is_empty() { Faces::embedded() } else { Faces::with_own(fonts) };
        let renderer = Renderer::with_faces(all, faces);
        loop {
            let (order, pieces) = read_parcel::<Order<Prepared>>(&mut input)?;
            let Order { mut prepared, alone: by_itself } = order;
            prepared.bytes = pieces;
            bounded::time(TIME);
            let made =
                if by_itself { alone(|| renderer.set(prepared)) } else { renderer.set(prepared) };
            let (outcome, pieces): (Outcome, _) = match made {
                Ok(Document { pdf, pages, pictures }) => {
                    let (numbers, pictures): (Vec<_>, Vec<_>) = pictures.into_iter().unzip();
                    (Ok((pages, numbers)), [vec![pdf], pictures].concat())
                }
                Err(failure) => (Err(failure), vec![]),
            };
            write_parcel(&mut output, &outcome, &pieces)?;
        }
    };
    // The end of its input is the end of its work.
    let _ = work();
    ExitCode::SUCCESS
}

/// Bounds that the system keeps.
#[cfg(any(target_os = "linux", target_os = "android", target_vendor = "apple"))]
mod bounded {
    use std::time::Duration;

    use rustix::process::{Resource, getrlimit, setrlimit};
    use rustix::time::{ClockId, clock_gettime};

    /// Sets what the process may hold; a lower bound that it has already stays.
    pub fn memory(most: u64) {
        bound(Resource::Data, most);
    }

    /// Sets how long it may work from now on, all cores together.
    pub fn time(most: Duration) {
        let worked = clock_gettime(ClockId::ProcessCPUTime).tv_sec.unsigned_abs();
        let cores = std::thread::available_parallelism().map_or(1, usize::from) as u64;
        bound(Resource::Cpu, worked + 2 * cores * most.as_secs());
    }

    fn bound(what: Resource, most: u64) {
        let mut limit = getrlimit(what);
        limit.current = Some(limit.maximum.map_or(most, |highest| highest.min(most)));
        // Where the system does not take it, whoever waits still has the time in hand.
        let _ = setrlimit(what, limit);
    }
}

#[cfg(not(any(target_os = "linux", target_os = "android", target_vendor = "apple")))]
mod bounded {
    use std::time::Duration;

    pub fn memory(_: u64) {}

    pub fn time(_: Duration) {}
}
