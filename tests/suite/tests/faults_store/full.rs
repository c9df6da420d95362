//! The storage fills up at any write.
//!
//! For every write of the day, the storage is full from that one on: once so that it takes nothing, once so
//! that what is there can be overwritten and nothing can grow. The deed that meets it says so and changes
//! nothing; all that was saved before can be read while the storage is full, also after a restart; and the
//! same deed works once there is space.

use faults_vfs::{Files, Mounted, Trouble};
use rstest::rstest;
use store::{Draft, Error, Opening, Store};

use crate::story::{Deed, day, draft};
use crate::truth::Truth;

const FILE: &str = "headmark.db";

fn open(mounted: &Mounted) -> Result<Store, Error> {
    Opening::at(FILE).through(mounted.name()).open()
}

/// Plays the day with this trouble; returns false once the day ended without meeting it.
fn meet(mounted: &Mounted, deeds: &[Deed], truths: &[Truth], trouble: Trouble) -> bool {
    mounted.replace(Files::new());
    mounted.disk().set_trouble(trouble);
    let store = match open(mounted) {
        Ok(store) => store,
        Err(error) => {
            assert!(matches!(error, Error::Full), "{trouble:?}, opening: {error}");
            mounted.disk().set_trouble(Trouble::None);
            assert_eq!(Truth::of(&open(mounted).unwrap()).unwrap(), truths[0], "{trouble:?}");
            return true;
        }
    };
    for (done, deed) in deeds.iter().enumerate() {
        let Err(error) = deed.on(&store) else { continue };
        assert!(matches!(error, Error::Full), "{trouble:?}, {deed:?}: {error}");
        assert_eq!(Truth::of(&store).unwrap(), truths[done], "{trouble:?}: after deed {done}, still full");
        drop(store);
        let store = open(mounted).unwrap();
        assert_eq!(Truth::of(&store).unwrap(), truths[done], "{trouble:?}: restarted, still full");
        mounted.disk().set_trouble(Trouble::None);
        deed.on(&store).unwrap();
        assert_eq!(Truth::of(&store).unwrap(), truths[done + 1], "{trouble:?}: there is space again");
        return true;
    }
    false
}

#[rstest]
#[case::taking_nothing("full-nothing", Trouble::FullAfter)]
#[case::unable_to_grow("full-growth", Trouble::NoGrowthAfter)]
fn storage_that_fills_up_at_any_write_loses_nothing(#[case] name: &str, #[case] trouble: fn(u64) -> Trouble) {
    let mounted = Mounted::named(name);
    let deeds = day();
    let truths = Truth::along(&deeds);
    let mut writes = 0;
    while meet(&mounted, &deeds, &truths, trouble(writes)) {
        writes += 1;
    }
    println!("{name}: {writes} writes, each refused in turn");
    assert!(writes > 200, "the day made only {writes} writes: it does not try much");
}

#[test]
fn a_file_that_may_not_grow_says_so_and_goes_on_when_it_may() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join(FILE);
    let store = Opening::at(&path).most_pages(120).open().unwrap();
    let numbered = |number| Draft { id: format!("{number}"), ..draft(1, 2) };
    let mut saved = 0;
    let error = loop {
        match store.save_draft(&numbered(saved)) {
            Ok(()) => saved += 1,
            Err(error) => break error,
        }
    };
    assert!(matches!(error, Error::Full) && error.to_string().contains("Free some space"), "{error}");
    assert_eq!((error.code(), error.is_retryable()), ("store.full", true));
    assert_eq!(store.drafts().unwrap().len(), saved);
    drop(store);
    let store = Opening::at(&path).open().unwrap();
    store.save_draft(&numbered(saved)).unwrap();
    assert_eq!(store.drafts().unwrap().len(), saved + 1);
}
