//! The hub's disk is full.

use std::path::Path;
use std::process::Command;

use carried::{Hub, Phone, Proxy};
use carry::LinkError;

/// A small disk of memory, mounted in a folder; it goes with it.
struct Small<'f>(&'f Path);

impl Small<'_> {
    /// None where this user may not mount, or this machine has no such disks.
    fn mounted(at: &Path) -> Option<Small<'_>> {
        let mounted =
            Command::new("mount").args(["-t", "tmpfs", "-o", "size=6m", "headmark-small"]).arg(at).output();
        mounted.is_ok_and(|done| done.status.success()).then_some(Small(at))
    }
}

impl Drop for Small<'_> {
    fn drop(&mut self) {
        // Lazily: a process that still ends may hold it.
        assert!(Command::new("umount").arg("--lazy").arg(self.0).status().unwrap().success());
    }
}

/// Sends until the hub has no space left, and checks what the phone hears; then makes space, and all goes on.
fn fills(hub: &Hub, make_space: impl FnOnce()) {
    let by = Proxy::to(hub.at()).unwrap();
    let asha = Phone::new("asha").unwrap();
    asha.enrol(hub, &by).unwrap();
    asha.exchange(&by).unwrap();
    let mut heard = None;
    for _ in 0..60 {
        asha.write(25).unwrap();
        if let Err(error) = asha.exchange(&by) {
            heard = Some(error);
            break;
        }
        assert_eq!(asha.received().unwrap(), asha.own().unwrap());
    }
    let told = asha.received().unwrap();
    match heard.expect("the disk never filled") {
        carry::Error::Link(LinkError::Refused { status, wait, word }) => {
            println!("after {} records the phone hears {status} {word}, wait {wait:?}", told.len());
            assert!((status == 507 || status == 503) && wait.is_some(), "{status} {word} {wait:?}");
        }
        other => panic!("{other:?}"),
    }
    assert!(told.len() >= 25 && told.len() < asha.own().unwrap().len(), "{}", told.len());

    make_space();
    asha.exchange_until_well(&by).unwrap();
    let own = asha.own().unwrap();
    assert_eq!(asha.received().unwrap(), own);
    let held = hub.held().unwrap();
    assert_eq!((held.lacking(&own), held.doubled()), (vec![], vec![]));
}

#[test]
fn a_full_disk_is_a_refusal_for_now_and_nothing_is_lost() {
    let folder = tempfile::tempdir().unwrap();
    let Some(small) = Small::mounted(folder.path()) else {
        println!(
            "NOT RUN: a small disk in memory needs to be mounted, as root may; the next test limits a file instead"
        );
        return;
    };
    let hub = Hub::founded_in(folder.path()).unwrap();
    fills(&hub, || {
        let grown = Command::new("mount").args(["-o", "remount,size=200m"]).arg(folder.path()).status();
        assert!(grown.unwrap().success());
    });
    drop(hub);
    drop(small);
}

#[test]
fn a_file_that_may_not_grow_is_a_refusal_for_now_and_nothing_is_lost() {
    let mut hub = Hub::founded().unwrap();
    hub.stop().unwrap();
    hub.serve_within(3000).unwrap();
    fills(&hub, || hub.give_space().unwrap());
}
