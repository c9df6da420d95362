//! The hold that the app has on the carrier: commands and the app's life wake it, stop it, and ask what it told last.

use std::sync::Arc;
use std::sync::mpsc::{Sender, channel};
use std::time::Duration;

use field::Under;
use field::view::{Message, Network};
use tokio::runtime::Handle;

use super::told::Told;
use super::turns::{self, Wake};
use crate::open_phone::OpenPhone;

/// How long putting the app away waits for a border between two pieces.
const BORDER: Duration = Duration::from_millis(1_500);

/// The carrier of this app.
#[derive(Clone)]
pub(crate) struct Carrier {
    told: Arc<Told>,
    wake: Sender<Wake>,
    runtime: Handle,
}

impl Carrier {
    /// Starts the thread. `tell` is called when there is something new to show.
    pub(crate) fn start(
        phone: OpenPhone,
        runtime: Handle,
        tell: impl Fn() + Send + Sync + 'static,
    ) -> std::io::Result<Carrier> {
        let told = Arc::new(Told::new(Box::new(tell)));
        let (wake, woken) = channel();
        let (own, same) = (Arc::clone(&told), runtime.clone());
        std::thread::Builder::new()
            .name("carrier".to_owned())
            .spawn(move || turns::take_turns(&turns::With { phone, runtime: same, told: own }, &woken))?;
        Ok(Carrier { told, wake, runtime })
    }

    /// Returns what is under way, and what went wrong last.
    pub(crate) fn now(&self) -> (Under, Option<Message>) {
        self.told.now()
    }

    /// Returns what the network's tasks run on.
    pub(crate) fn runtime(&self) -> Handle {
        self.runtime.clone()
    }

    /// Goes at once: a person asked.
    pub(crate) fn go(&self) {
        self.wake(Wake::Now);
    }

    /// Something was signed: it goes soon, or with the try that is waited for.
    pub(crate) fn signed(&self) {
        self.wake(Wake::Soon);
    }

    /// Stops what is under way, at the next border between two pieces.
    pub(crate) fn stop(&self) {
        self.told.stop();
    }

    /// Takes up what kind of connection there is; one that came back is used at once.
    pub(crate) fn network(&self, network: Network) {
        if self.told.network(network) {
            self.wake(Wake::Now);
        }
    }

    /// The app goes to the background or ends: stops, and waits a moment for the border.
    pub(crate) fn away(&self) {
        self.wake(Wake::Away);
        self.told.stop();
        self.told.wait_until_idle(BORDER);
    }

    /// The app is back.
    #[cfg(mobile)]
    pub(crate) fn back(&self) {
        self.wake(Wake::Now);
    }

    fn wake(&self, wake: Wake) {
        // The thread ends with the process only.
        if self.wake.send(wake).is_err() {
            tracing::error!("the carrier is gone");
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a panic here is the message")]
mod tests {
    use std::net::{SocketAddr, TcpListener};
    use std::path::Path;
    use std::sync::mpsc::Receiver;
    use std::thread;
    use std::time::Instant;

    use field::host::KeyFolder;
    use field::view::Change;
    use kit::{Core, Office, Phone, Story};
    use tempfile::TempDir;

    use super::*;
    use crate::places::Places;

    /// How long the app may take to go away: a platform ends it soon after without a word.
    const AWAY: Duration = Duration::from_secs(2);

    /// A hub that takes every connection and never says a word; each one is told.
    fn silent_hub() -> (SocketAddr, Receiver<()>) {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let at = listener.local_addr().unwrap();
        let (tell, told) = channel();
        thread::spawn(move || {
            let mut held = Vec::new();
            for connection in listener.incoming() {
                held.push(connection);
                if tell.send(()).is_err() {
                    return;
                }
            }
        });
        (at, told)
    }

    /// A phone that belongs to the hub at an address and has something to send.
    fn phone_of(hub: SocketAddr, folder: &Path) -> OpenPhone {
        let (data, exports) = (folder.join("data"), folder.join("exports"));
        let keys = data.join("keys");
        let places = Places { data, exports, most_pages: None, frames: None };
        let phone = OpenPhone::new(places, move || Box::new(KeyFolder::at(&keys)));
        let office = Office::new().unwrap();
        let invitation = office.invitation().replace("hub.marrowby.example:8443", &hub.to_string());
        phone
            .with(|phone| {
                phone.set_technician("Asha Renn")?;
                let invited = phone.enrol_begin(&invitation)?;
                phone.enrol_asked(&invited, &office.met())?;
                let (keys, entries) = office.confirms(&invited.key).unwrap();
                phone.enrol_confirmed(&keys, &entries)
            })
            .unwrap();
        phone
    }

    /// The same phone with the invented utility's register, and a visit open at its first step for each story, by its id.
    fn prepared(hub: SocketAddr, folder: &Path, stories: &[Story]) -> (OpenPhone, Vec<String>) {
        let core = Core::open(&Phone::at(folder).unwrap()).unwrap();
        core.prepare("Asha Renn").unwrap();
        let begin = |story: &Story| core.play(story, story.parts.first().unwrap().step).unwrap();
        let visits = stories.iter().map(begin).collect();
        drop(core);
        (phone_of(hub, folder), visits)
    }

    /// Makes a whole visit by the commands of the pages, each of which is saved before the next.
    fn visit(phone: &OpenPhone, id: &str, story: &Story) {
        let change = |change: &Change| phone.with(|phone| phone.visit_change(id, change)).unwrap();
        let mut view = phone.with(|phone| phone.visit_open(id)).unwrap();
        for part in &story.parts {
            for act in &part.acts {
                view = change(&act.change());
                assert!(view.saved.starts_with("Saved"), "{act:?}: {}", view.saved);
            }
            if let Some(step) = view.now.next.to {
                view = change(&Change::Go { step });
            }
        }
        let record = phone.with(|phone| phone.visit_sign(id)).unwrap();
        assert_eq!(record.tag, story.tag);
    }

    fn carrier_of(phone: &OpenPhone) -> Carrier {
        let tauri::async_runtime::RuntimeHandle::Tokio(runtime) = tauri::async_runtime::handle();
        Carrier::start(phone.clone(), runtime, || {}).unwrap()
    }

    /// What closing the app does, in the order in which it does it; returns how long it took.
    fn put_away(carrier: &Carrier, phone: &OpenPhone) -> Duration {
        let begun = Instant::now();
        carrier.away();
        phone.suspend();
        begun.elapsed()
    }

    fn is_closed(folder: &TempDir) -> bool {
        let log = folder.path().join("data/headmark.db-wal");
        std::fs::metadata(log).map_or(true, |log| log.len() == 0)
    }

    #[test]
    fn put_away_in_the_middle_of_a_question_the_app_is_closed_in_time_and_stays_so() {
        let folder = tempfile::tempdir().unwrap();
        let (hub, connected) = silent_hub();
        let phone = phone_of(hub, folder.path());
        assert!(!is_closed(&folder), "there is something to write out");
        let carrier = carrier_of(&phone);
        connected.recv_timeout(Duration::from_secs(20)).unwrap();
        let took = put_away(&carrier, &phone);
        assert!(took < AWAY && is_closed(&folder), "{took:?}");
        // By itself nothing begins again, and nothing holds the file open.
        connected.recv_timeout(Duration::from_secs(4)).unwrap_err();
        assert!(is_closed(&folder));
        // The next command opens the file; asked, the carrier goes on.
        assert!(phone.with(field::Phone::home).unwrap().status.starts_with("No records"));
        carrier.go();
        connected.recv_timeout(Duration::from_secs(20)).unwrap();
        put_away(&carrier, &phone);
    }

    /// The hub takes the connection and says nothing. Whatever a question kept locked, a visit would come to its end only
    /// after the question was given up; how fast the machine is does not matter, only that it is not slow each time.
    #[test]
    fn while_the_hub_does_not_answer_a_visit_is_made_and_signed() {
        let folder = tempfile::tempdir().unwrap();
        let (hub, connected) = silent_hub();
        let stories = [kit::known_empty(), kit::dip()];
        let (phone, visits) = prepared(hub, folder.path(), &stories);
        let carrier = carrier_of(&phone);
        let within_one_question = |(id, story): (&String, &Story)| {
            carrier.go();
            connected.recv_timeout(Duration::from_secs(120)).unwrap();
            visit(&phone, id, story);
            // The same question still waits: nobody gave up, nobody asked anew.
            carrier.now().0.stage == field::Stage::Asking && connected.try_recv().is_err()
        };
        assert!(visits.iter().zip(&stories).any(within_one_question), "a visit waited for the hub's answer");
        put_away(&carrier, &phone);
    }

    #[test]
    fn what_does_not_come_to_its_border_does_not_hold_the_app_up() {
        let folder = tempfile::tempdir().unwrap();
        let (hub, _connected) = silent_hub();
        let phone = phone_of(hub, folder.path());
        // A turn that begins and never ends, whatever it is told: its thread is taken up with something else.
        let (wake, _woken) = channel();
        let tauri::async_runtime::RuntimeHandle::Tokio(runtime) = tauri::async_runtime::handle();
        let carrier = Carrier { told: Arc::new(Told::new(Box::new(|| {}))), wake, runtime };
        let cancel = carrier.told.begin();
        let took = put_away(&carrier, &phone);
        assert!(cancel.is_stopped() && took >= BORDER && took < AWAY && is_closed(&folder), "{took:?}");
    }
}
