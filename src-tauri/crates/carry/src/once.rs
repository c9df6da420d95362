//! One exchange over one link: drives the session from the hello to the end.

use exchange::packed;
use exchange::session::{Broken, Ledger, Session, Step, Summary};
use record::{Proof, Signer};

use crate::progress::{Around, Progress, Stage};
use crate::{Error, Link, LinkError};

/// The most bytes that an answer may unpack to.
pub const MOST_ANSWER: usize = 4 * 1024 * 1024;

/// Runs one exchange. `most` bounds the bytes of records in one push.
///
/// Each answer is taken durably before the next question goes out: wherever it breaks off, nothing is lost and the next
/// exchange goes on from there.
///
/// # Errors
///
/// What the link gives, what the session finds wrong, and what the ledger gives.
pub fn once<L: Ledger>(
    ledger: &L,
    signer: &impl Signer,
    proof: &(impl Proof + ?Sized),
    link: &(impl Link + ?Sized),
    around: &(impl Around + ?Sized),
    most: usize,
) -> Result<Summary, Error<L::Error>> {
    around.told(&Progress::default());
    let mut session = Session::new(ledger, signer, proof, most);
    let mut step = session.begin().map_err(of_session)?;
    loop {
        let (route, body) = match step {
            Step::Ask { route, body } => (route, body),
            Step::Done(summary) => {
                around.told(&Progress::of(Stage::Done, &summary));
                return Ok(summary);
            }
        };
        if around.is_stopped() {
            return Err(LinkError::Stopped.into());
        }
        let answer = link.ask(route, &packed::pack(&body)?)?;
        step = session.answered(&packed::unpack(&answer, MOST_ANSWER)?).map_err(of_session)?;
        around.told(&Progress::of(Stage::Records, session.summary()));
    }
}

fn of_session<E: std::error::Error>(broken: Broken<E>) -> Error<E> {
    match broken {
        Broken::Exchange(error) => Error::Exchange(error),
        Broken::Ledger(error) => Error::Ledger(error),
    }
}
