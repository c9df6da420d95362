//! Whom to trust: what each layer may say, what a revocation leaves standing, and that no order of arrival matters.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a panic here is the message"
)]

use bodies::{
    CERTIFICATE, CERTIFICATE_VERSION, Certificate, Certified, Decision, Epoch, LastTrusted, PersonId, REVIEW,
    REVIEW_VERSION, REVOCATION, REVOCATION_VERSION, Review, Revocation, SpkiHash,
};
use exchange::intake::Arrived;
use exchange::run::Runs;
use exchange::trust::{Standing, Trust};
use proptest::prelude::*;
use record::{
    Claimed, EntryId, Kind, Link, LogId, NewEntry, PayloadHash, PublicKey, SecretKey, Seq, Signer, open, seal,
};

/// Somebody who signs a log.
struct Signs {
    key: SecretKey,
    link: Link,
}

impl Signs {
    fn number(number: u8) -> Signs {
        Signs { key: SecretKey::take(&mut [number; 32]), link: Link::First }
    }

    fn log(&self) -> LogId {
        self.key.public().log()
    }

    fn say(&mut self, kind: Kind, version: u32, body: &[u8]) -> Arrived {
        let claimed = Claimed { millis: 0, offset_minutes: 0 };
        let new = NewEntry { link: self.link, kind, body_version: version, claimed, boot: None };
        let sealed = seal(&new, body, &self.key).unwrap();
        self.link = sealed.next();
        Arrived::of(&open(&sealed.bytes).unwrap())
    }

    fn certify(&mut self, key: &PublicKey, certified: Certified) -> Arrived {
        let certificate = Certificate { key: key.clone(), label: "one".into(), certified };
        self.say(CERTIFICATE, CERTIFICATE_VERSION, &certificate.encode().unwrap())
    }

    fn certify_hub(&mut self, hub: &Signs, epoch: u8) -> Arrived {
        let tls = vec![SpkiHash([1; 32])];
        let certified = Certified::Hub { tls, epoch: Epoch([epoch; 16]), replaces: None };
        self.certify(hub.key.public(), certified)
    }

    fn certify_phone(&mut self, phone: &Signs) -> Arrived {
        let certified = Certified::Device { person: PersonId([1; 16]), areas: [].into() };
        self.certify(phone.key.public(), certified)
    }

    fn revoke(&mut self, log: LogId, last: Option<EntryId>) -> Arrived {
        let last = last.map(last_trusted);
        let revocation = Revocation { log, last, reason: "lost".into(), person: PersonId([2; 16]) };
        self.say(REVOCATION, REVOCATION_VERSION, &revocation.encode().unwrap())
    }

    fn adopt(&mut self, subject: EntryId) -> Arrived {
        let review =
            Review { subject, decision: Decision::Adopted, note: String::new(), person: PersonId([2; 16]) };
        self.say(REVIEW, REVIEW_VERSION, &review.encode().unwrap())
    }

    /// Something that says nothing of trust.
    fn note(&mut self, text: u8) -> Arrived {
        self.say(Kind(4_000), 1, &[0x61, text])
    }
}

fn last_trusted(id: EntryId) -> LastTrusted {
    LastTrusted { seq: id.seq, payload: id.payload }
}

/// An organisation, its hub and two phones.
fn people() -> [Signs; 4] {
    [1, 2, 3, 4].map(Signs::number)
}

fn told(organisation: &Signs, entries: &[&Arrived]) -> Trust {
    let mut trust = Trust::rooted_in(organisation.log());
    trust.learn(entries.iter().copied());
    trust
}

/// What an entry is worth, where the branch is as the entries hang together.
fn worth(trust: &Trust, of: &Arrived, log: &[&Arrived]) -> Standing {
    let mut runs = Runs::default();
    for entry in log.iter().filter(|entry| entry.id.log == of.id.log) {
        runs.add(entry.step(), true);
    }
    trust.standing(&of.id, runs.parting(), |seq, payload| leads(log, of, (seq, payload)))
}

fn leads(log: &[&Arrived], of: &Arrived, end: (Seq, PayloadHash)) -> bool {
    let mut next = Some(end);
    while let Some((seq, payload)) = next {
        if (seq, payload) == (of.id.seq, of.id.payload) {
            return true;
        }
        let entry = log.iter().find(|entry| (entry.id.seq, entry.id.payload) == (seq, payload));
        next = entry.and_then(|entry| Seq::new(seq.get() - 1).zip(entry.previous));
    }
    false
}

#[test]
fn each_layer_says_what_is_its_to_say_and_no_more() {
    let [mut organisation, mut hub, mut phone, mut stranger] = people();
    let of_hub = organisation.certify_hub(&hub, 7);
    let of_phone = hub.certify_phone(&phone);
    let trust = told(&organisation, &[&of_hub, &of_phone]);
    assert_eq!(trust.hub_of(Epoch([7; 16])), Some(hub.log()));
    assert!(trust.device(phone.log()).is_some() && trust.knows(phone.log()) && !trust.knows(stranger.log()));

    // The stranger's key, for others to speak of.
    let (subject, other_hub) = (Signs::number(4), Signs::number(9));
    for (entry, who) in [
        (phone.certify_phone(&subject), "a phone certifies nobody"),
        (stranger.certify_phone(&subject), "nor does a stranger"),
        (organisation.certify_phone(&subject), "nor the organisation a phone"),
        (hub.certify_hub(&subject, 8), "a hub certifies no hub"),
        (stranger.certify_hub(&subject, 8), "nor does a stranger"),
        (hub.certify(subject.key.public(), Certified::Organisation), "nor names a successor"),
    ] {
        assert!(!told(&organisation, &[&of_hub, &of_phone, &entry]).knows(stranger.log()), "{who}");
    }
    let of_other = organisation.certify_hub(&other_hub, 8);
    let revoked = |entry: &Arrived, log: LogId| {
        told(&organisation, &[&of_hub, &of_phone, &of_other, entry]).revoked(log).is_some()
    };
    assert!(!revoked(&hub.revoke(other_hub.log(), None), other_hub.log()), "a hub puts no hub away");
    assert!(!revoked(&phone.revoke(phone.log(), None), phone.log()), "a phone revokes nobody");
    assert!(revoked(&hub.revoke(phone.log(), None), phone.log()));
    let mine = phone.note(1);
    let adopted = phone.adopt(mine.id);
    assert_eq!(worth(&told(&organisation, &[&of_hub, &adopted]), &mine, &[]), Standing::Parked);
}

#[test]
fn a_successor_of_the_organisation_speaks_for_it() {
    let [mut organisation, hub, mut next, _] = people();
    let succeeds = organisation.certify(next.key.public(), Certified::Organisation);
    let of_hub = next.certify_hub(&hub, 7);
    assert!(told(&organisation, &[&of_hub]).hub(hub.log()).is_none());
    let trust = told(&organisation, &[&of_hub, &succeeds]);
    assert!(trust.is_organisation(next.log()) && trust.hub(hub.log()).is_some());
}

#[test]
fn what_follows_or_forks_counts_in_nothing_until_it_is_adopted() {
    let [mut organisation, mut hub, mut phone, _] = people();
    let (of_hub, of_phone) = (organisation.certify_hub(&hub, 7), hub.certify_phone(&phone));
    let first = phone.note(1);
    let back = phone.link;
    let (last, follows) = (phone.note(2), phone.note(3));
    phone.link = back;
    let forged = phone.note(4);
    let log = [&first, &last, &follows, &forged];
    let revoked = hub.revoke(phone.log(), Some(last.id));
    let mut trust = told(&organisation, &[&of_hub, &of_phone]);
    let worths = |trust: &Trust| log.map(|entry| worth(trust, entry, &log));
    let (counts, after, forked) = (Standing::Counts, Standing::AfterRevocation, Standing::Forked);
    assert_eq!(
        worths(&trust),
        [counts, forked, forked, forked],
        "until somebody decides neither branch counts"
    );
    assert!(!forked.counts());
    let mut one = trust.clone();
    one.learn([&hub.adopt(forged.id)]);
    assert_eq!(worths(&one), [counts, forked, forked, Standing::Adopted], "by its hash alone");
    let decides = hub.revoke(phone.log(), Some(follows.id));
    one.learn([&decides]);
    assert_eq!(worths(&one), [counts, counts, counts, Standing::Adopted], "up to the end of one branch");
    trust.learn([&revoked]);
    assert_eq!(worths(&trust), [counts, counts, after, after]);
    trust.learn([&hub.adopt(follows.id)]);
    assert_eq!(worths(&trust), [counts, counts, Standing::Adopted, after], "by its hash alone");
    assert!(Standing::Adopted.counts() && !after.counts() && !Standing::Parked.counts());
    // A second revocation that trusts less holds; one that trusts more does not.
    let (less, more) = (hub.revoke(phone.log(), Some(first.id)), hub.revoke(phone.log(), Some(follows.id)));
    trust.learn([&more]);
    assert_eq!(worths(&trust)[1], counts);
    trust.learn([&less]);
    assert_eq!(worths(&trust), [counts, after, Standing::Adopted, after]);
    trust.learn([&hub.revoke(phone.log(), None)]);
    assert_eq!(worths(&trust), [after, after, Standing::Adopted, after]);
}

/// Three certificates in the log of a hub that was revoked later: on the trusted branch, forged beside it, and behind it.
struct RevokedHub {
    said: Vec<Arrived>,
    last: LastTrusted,
    phones: [LogId; 3],
    certificates: [EntryId; 3],
    hub: LogId,
}

fn revoked_hub(organisation: &mut Signs) -> RevokedHub {
    let [_, mut hub, honest, forged] = people();
    let late = Signs::number(5);
    let of_hub = organisation.certify_hub(&hub, 7);
    let receipt = hub.note(1);
    let back = hub.link;
    let of_honest = hub.certify_phone(&honest);
    let last = hub.note(2);
    let of_late = hub.certify_phone(&late);
    hub.link = back;
    // Below the cut by its place, and on a branch that whoever stole the key made.
    let of_forged = hub.certify_phone(&forged);
    let revoked = organisation.revoke(hub.log(), Some(last.id));
    RevokedHub {
        certificates: [of_honest.id, of_forged.id, of_late.id],
        phones: [honest.log(), forged.log(), late.log()],
        last: last_trusted(last.id),
        hub: hub.log(),
        said: vec![of_hub, receipt, of_honest, last, of_late, of_forged, revoked],
    }
}

impl RevokedHub {
    fn trusts(&self, trust: &Trust) -> [bool; 3] {
        self.phones.map(|log| trust.device(log).is_some())
    }
}

#[test]
fn a_branch_forged_below_the_cut_of_a_hubs_log_certifies_nobody() {
    let mut organisation = Signs::number(1);
    let world = revoked_hub(&mut organisation);
    let mut trust = told(&organisation, &world.said.iter().collect::<Vec<_>>());
    assert_eq!(world.trusts(&trust), [false; 3], "nothing is known yet of what leads where");
    let unproved = trust.unproved();
    let mut expected = vec![world.certificates[0], world.certificates[1]];
    expected.sort();
    assert_eq!((unproved.len(), unproved[0].log, unproved[0].last), (1, world.hub, world.last));
    assert_eq!(unproved[0].entries, expected, "what stands behind the cut is not asked about");
    trust.prove(world.last, [world.certificates[0]]);
    assert_eq!(world.trusts(&trust), [true, false, false]);
    // The forged one stays unproved, whatever comes.
    assert_eq!(trust.unproved()[0].entries, [world.certificates[1]]);
    trust.learn([&organisation.note(9)]);
    assert_eq!(world.trusts(&trust), [true, false, false]);
}

#[test]
fn what_was_proved_for_one_cut_is_not_proved_for_a_lower_one() {
    let mut organisation = Signs::number(1);
    let world = revoked_hub(&mut organisation);
    let mut trust = told(&organisation, &world.said.iter().collect::<Vec<_>>());
    trust.prove(world.last, [world.certificates[0]]);
    trust.learn([&organisation.revoke(world.hub, Some(world.said[1].id))]);
    assert_eq!(world.trusts(&trust), [false; 3]);
    assert_eq!(trust.unproved(), []);
}

#[test]
fn a_hub_that_was_revoked_is_the_hub_of_no_epoch() {
    let mut organisation = Signs::number(1);
    let world = revoked_hub(&mut organisation);
    let (revocation, before) = world.said.split_last().unwrap();
    let mut trust = told(&organisation, &before.iter().collect::<Vec<_>>());
    assert_eq!((trust.hub_of(Epoch([7; 16])), world.trusts(&trust)), (Some(world.hub), [true; 3]));
    trust.learn([revocation]);
    assert_eq!(trust.hub_of(Epoch([7; 16])), None);
    assert!(trust.hub(world.hub).is_some(), "its log stays known, and what it said before");
}

proptest! {
    #[test]
    fn the_order_in_which_it_came_does_not_matter(order in Just((0..10).collect::<Vec<usize>>()).prop_shuffle(), pieces in 1usize..4) {
        let [mut organisation, mut hub, mut phone, late] = people();
        let note = phone.note(1);
        let mut next = Signs::number(6);
        let other = Signs::number(7);
        let mut said = vec![organisation.certify_hub(&hub, 7), organisation.certify(next.key.public(), Certified::Organisation)];
        said.push(next.certify_hub(&other, 8));
        said.extend([hub.certify_phone(&phone), hub.certify_phone(&late), hub.note(5)]);
        said.extend([hub.revoke(phone.log(), Some(note.id)), hub.adopt(note.id), hub.revoke(late.log(), None)]);
        let last = said[7].id;
        // The successor's to say: its forerunner says nothing more.
        said.push(next.revoke(hub.log(), Some(last)));
        let mut plain = told(&organisation, &said.iter().collect::<Vec<_>>());
        let mut shuffled = Trust::rooted_in(organisation.log());
        for piece in order.chunks(pieces) {
            shuffled.learn(piece.iter().map(|at| &said[*at]));
            for unproved in shuffled.unproved() {
                shuffled.prove(unproved.last, unproved.entries);
            }
        }
        for unproved in plain.unproved() {
            plain.prove(unproved.last, unproved.entries);
        }
        prop_assert_eq!(&shuffled, &plain);
        prop_assert!(plain.device(phone.log()).is_some() && plain.revoked(phone.log()).is_some());
        prop_assert!(plain.revoked(late.log()).is_none(), "that was said behind the cut");
        prop_assert!(plain.hub(other.log()).is_some());
    }
}
