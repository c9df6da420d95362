//! The phone that all commands share: opened by the first of them, closed on suspend.

use std::sync::{Arc, Mutex, PoisonError};

use field::host::{HostClock, HostEntropy};
use field::view::{Grade, Message};
use field::{Error, Keys, Opening, Phone, Ports};

use crate::places::Places;

/// The one phone of this app.
#[derive(Clone)]
pub(crate) struct OpenPhone(Arc<Inner>);

struct Inner {
    places: Places,
    keys: Box<dyn Fn() -> Box<dyn Keys> + Send + Sync>,
    phone: Mutex<Option<Arc<Phone>>>,
}

impl OpenPhone {
    /// Opens nothing yet: what stands against it is then told by the command that needs it, on a screen.
    pub(crate) fn new(places: Places, keys: impl Fn() -> Box<dyn Keys> + Send + Sync + 'static) -> OpenPhone {
        OpenPhone(Arc::new(Inner { places, keys: Box::new(keys), phone: Mutex::new(None) }))
    }

    /// Runs a piece of work off the main thread, opening the phone if it is not open.
    pub(crate) async fn run<T: Send + 'static>(
        &self,
        work: impl FnOnce(&Phone) -> Result<T, Error> + Send + 'static,
    ) -> Result<T, Message> {
        let own = self.clone();
        let done = tauri::async_runtime::spawn_blocking(move || work(own.phone()?.as_ref())).await;
        match done {
            Ok(given) => given.map_err(|error| told(&error)),
            Err(error) => {
                tracing::error!(%error, "a command broke off");
                Err(broke_off())
            }
        }
    }

    /// Runs a piece of work on this thread, opening the phone if it is not open.
    pub(crate) fn with<T>(&self, work: impl FnOnce(&Phone) -> Result<T, Error>) -> Result<T, Error> {
        work(self.phone()?.as_ref())
    }

    /// Closes the data file, if it is open.
    pub(crate) fn suspend(&self) {
        let phone = self.0.phone.lock().unwrap_or_else(PoisonError::into_inner).clone();
        if let Some(Err(error)) = phone.map(|phone| phone.suspend()) {
            tracing::warn!(code = error.code(), "the data file was closed with its log still full");
        }
    }

    fn phone(&self) -> Result<Arc<Phone>, Error> {
        let mut held = self.0.phone.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(phone) = held.as_ref() {
            return Ok(Arc::clone(phone));
        }
        let phone = Arc::new(open(&self.0.places, (self.0.keys)())?);
        *held = Some(Arc::clone(&phone));
        Ok(phone)
    }
}

fn open(places: &Places, keys: Box<dyn Keys>) -> Result<Phone, Error> {
    std::fs::create_dir_all(&places.data)?;
    let mut opening = Opening::at(places.file());
    if let Some(pages) = places.most_pages {
        opening = opening.most_pages(pages);
    }
    let ports = Ports { clock: Box::new(HostClock::start()), keys, entropy: Box::new(HostEntropy) };
    Phone::open(opening, places.exports.clone(), ports)
}

/// The code alone is logged: the sentence may name a file.
fn told(error: &Error) -> Message {
    tracing::warn!(code = error.code(), "a command was refused");
    error.message()
}

fn broke_off() -> Message {
    Message {
        code: "app.broke_off".into(),
        grade: Grade::Refusal,
        text: "Headmark made a mistake and broke off. What was saved before is safe.".into(),
        remedy: "Do it again; if it comes back, restart the app and report it.".into(),
        reason: None,
    }
}
