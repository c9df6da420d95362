//! A sync fails, once, at any place.
//!
//! The call that meets it must not say "saved". What it was about is then there whole or not at all, and all
//! before it is there.

use faults_vfs::{Files, Mounted, Trouble};
use store::{Error, Opening};

use crate::story::day;
use crate::truth::Truth;

#[test]
fn a_sync_that_fails_is_never_called_saved() {
    let mounted = Mounted::named("lost-sync");
    let deeds = day();
    let truths = Truth::along(&deeds);
    let open = || Opening::at("headmark.db").through(mounted.name()).open();
    for syncs in 0.. {
        mounted.replace(Files::new());
        mounted.disk().set_trouble(Trouble::SyncFailsAfter(syncs));
        let Ok(store) = open() else {
            open().unwrap();
            continue;
        };
        let failed = deeds.iter().enumerate().find_map(|(done, deed)| Some((done, deed.on(&store).err()?)));
        drop(store);
        // The last sync of the day may be the one at closing, when nobody is left to be told.
        let met = mounted.disk().count() > syncs;
        mounted.disk().set_trouble(Trouble::None);
        let found = Truth::of(&open().unwrap()).unwrap();
        let Some((done, error)) = failed else {
            assert_eq!(found, truths[deeds.len()]);
            if met {
                continue;
            }
            assert!(syncs > 30, "the day made only {syncs} syncs");
            return;
        };
        assert!(matches!(error, Error::Io { .. }), "sync {syncs}, {:?}: {error}", deeds[done]);
        assert!(truths[done..done + 2].contains(&found), "sync {syncs}: not as before or after deed {done}");
    }
}
