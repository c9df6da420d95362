//! Photos, as names only: brought in their lane, named by receipts, freed. No byte of one ever comes to the hub.

use std::collections::BTreeSet;

use bodies::PhotoHash;
use hubstore::{Ledger, Photos};

use crate::house::House;
use crate::phone::{Found, Phone};
use crate::world::World;

/// Brings the photos that a phone would bring. `breaks` is how many of a hundred break the lane off.
pub async fn bring<P: Phone, H: House>(world: &mut World<P, H>, at: usize, breaks: u64) {
    for photo in world.phones[at].photos_to_bring() {
        if world.chance.percent(breaks) {
            return;
        }
        let store = world.hub.store();
        // One that nothing cites there yet is left for another time.
        if let Some(row) = store.photo(photo).await.unwrap() {
            store.came_whole(photo, row.cited.length).await.unwrap();
            world.photos_brought += 1;
        }
    }
}

/// What phones call received is at the hub, what was backed up is there for good, and so is all that was freed.
pub async fn no_photo_is_lost<P: Phone, H: House>(world: &World<P, H>) {
    let freed: BTreeSet<PhotoHash> = world.freed.iter().flatten().copied().collect();
    for (photos, said) in
        [(&world.photos_stored, "called received"), (&world.photos_backed_up, "backed up"), (&freed, "freed")]
    {
        let photos: Vec<PhotoHash> = photos.iter().copied().collect();
        let held = world.hub.store().holds_photos(&photos).await.unwrap();
        assert_eq!(held.len(), photos.len(), "an answer for each");
        let lost: Vec<_> =
            photos.iter().zip(held).filter(|(_, held)| !held).map(|(photo, _)| photo).collect();
        assert!(lost.is_empty(), "photos {said} and not at the hub: {lost:?}");
    }
}

/// In the end every photo that is on a phone and that a record cites is at the hub.
pub async fn all_came_home<P: Phone, H: House>(world: &World<P, H>, phones: &[Found]) {
    for (at, phone) in phones.iter().enumerate() {
        for photo in &phone.photos {
            let cited = phone.cites(*photo);
            // Nobody brings one whose record waits parked at the hub, or was lost when the phone stopped before writing it.
            let expected = world.hub.store().holds(&cited).await.unwrap().contains(&true);
            let row = world.hub.store().photo(*photo).await.unwrap();
            let came = row.map_or(!expected, |row| row.whole);
            assert!(came, "{photo:?} is on phone {at} and not at the hub, cited there by {cited:?}");
        }
    }
}
