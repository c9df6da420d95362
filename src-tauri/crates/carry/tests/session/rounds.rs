//! How few questions it takes, and how much goes in each.

use carry::faulty::FaultyLink;
use exchange::session::ROUND;
use rstest::rstest;

use crate::hub::Hub;
use crate::phone::Phone;

/// A signed visit of the demo story is 6 to 9 kB.
const VISIT: usize = 8_000;

#[test]
fn fifty_visits_take_two_questions() {
    let (hub, phone) = (Hub::default(), Phone::with([VISIT; 50]));
    let under = hub.link();
    let link = FaultyLink::over(&under, []);
    let summary = phone.exchange(&link, ROUND).unwrap();
    assert_eq!((summary.sent, summary.left, summary.rounds), (50, 0, 2));
    assert_eq!(link.asked(), 2);
    assert_eq!(hub.entries.borrow().len(), 50);
}

#[test]
fn what_the_hub_holds_is_not_brought_again() {
    let (hub, phone) = (Hub::default(), Phone::with([VISIT; 3]));
    phone.exchange(&hub.link(), ROUND).unwrap();
    let again = phone.exchange(&hub.link(), ROUND).unwrap();
    assert_eq!((again.sent, hub.came_again.get()), (0, 0));
}

#[rstest]
#[case::a_quarter_of_a_mebibyte(256 * 1024)]
#[case::the_least(carry::LEAST_ROUND)]
fn a_push_holds_no_more_than_it_may(#[case] most: usize) {
    let (hub, phone) = (Hub::default(), Phone::with([VISIT; 200]));
    let summary = phone.exchange(&hub.link(), most).unwrap();
    assert_eq!((summary.sent, hub.entries.borrow().len()), (200, 200));
    // One entry may stand over: a push always holds at least one.
    assert!(hub.largest_push.get() <= most + VISIT + 500, "{}", hub.largest_push.get());
}

#[test]
fn an_entry_longer_than_a_push_goes_alone() {
    let (hub, phone) = (Hub::default(), Phone::with([60_000, 300]));
    phone.exchange(&hub.link(), 1_000).unwrap();
    assert_eq!(hub.entries.borrow().len(), 2);
}
