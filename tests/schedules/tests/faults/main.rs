//! What the exchange survives: phones, relays and a hub that stop at any write, a hub that is full, links that lose, double,
//! cut and change what they carry, old backups, damaged files, copied phones, clocks that go anywhere.
//!
//! Each schedule is drawn from a seed, which stands in the message of a failure: `HEADMARK_SEED=n cargo test -p schedules
//! --test faults` plays that one alone, in each of the tests unless one is named. `HEADMARK_SCHEDULES` says how many are
//! played on the plainest storage there is, with cheap signatures; `HEADMARK_REAL_SCHEDULES`, how many with the phone's own
//! core and store and the hub's file, on storages that lose their power.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    unreachable_pub,
    reason = "a test: a panic is the message"
)]

mod air;
mod chance;
mod cheap;
mod disk;
mod house;
mod hubside;
mod phone;
mod photos;
mod plain;
mod reached;
mod real;
mod truths;
mod world;

use std::num::NonZero;
use std::panic::AssertUnwindSafe;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{LazyLock, Mutex};

use cheap::{Cheaply, Really};
use house::{House, InMemory};
use phone::Phone;
use plain::Plain;
use reached::{Reached, Tally};
use real::{Handset, OnFile};
use world::World;

/// What a seed plays: some deeds with the truths held after each, then everything coming together. Returns the deeds, what
/// they came to, and how many entries the hub has in the end.
async fn play<P: Phone, H: House>(seed: u64) -> (Vec<&'static str>, Reached, usize) {
    let mut world = World::<P, H>::from(seed).await;
    let deeds = 10 + world.chance.below(25);
    for _ in 0..deeds {
        world.deed().await;
        truths::no_false_receipt(&world).await;
        photos::no_photo_is_lost(&world).await;
    }
    truths::all_comes_together(&mut world).await;
    let entries = world.hub.entries().await.len();
    (world.deeds, world.reached, entries)
}

/// Says what happens, where one schedule alone is played.
fn tell(what: impl FnOnce() -> String) {
    static ALOUD: LazyLock<bool> = LazyLock::new(|| number("HEADMARK_SEED").is_some());
    if *ALOUD {
        println!("{}", what());
    }
}

fn number(name: &str) -> Option<u64> {
    std::env::var(name).ok().map(|text| text.parse().unwrap_or_else(|_| panic!("{name} is a number")))
}

/// Plays the seeds, on twice as many threads as there are processors: the hub opens entries on threads of its own, and
/// whoever waits for them keeps no processor idle.
fn schedules<P: Phone, H: House>(from: u64, count: u64) {
    let (from, count) = number("HEADMARK_SEED").map_or((from, count), |seed| (seed, 1));
    let (next, tally) = (AtomicU64::new(from), Mutex::new(Tally::default()));
    let threads = 2 * std::thread::available_parallelism().map_or(1, NonZero::get);
    std::thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                let runtime = runtime();
                loop {
                    let seed = next.fetch_add(1, Ordering::Relaxed);
                    if seed >= from + count {
                        break;
                    }
                    let play = || runtime.block_on(play::<P, H>(seed));
                    let played = std::panic::catch_unwind(AssertUnwindSafe(play));
                    let Ok((_, reached, _)) = played else {
                        panic!("play it again with HEADMARK_SEED={seed}")
                    };
                    tally.lock().unwrap().add(&reached);
                }
            });
        }
    });
    println!("{count} schedules, seeds from {from}, of which so many came to:");
    tally.into_inner().unwrap().close(count);
}

fn runtime() -> tokio::runtime::Runtime {
    tokio::runtime::Builder::new_current_thread().build().unwrap()
}

#[test]
fn nothing_is_lost_nothing_comes_twice_and_all_comes_together() {
    schedules::<Plain<Cheaply>, InMemory>(1, number("HEADMARK_SCHEDULES").unwrap_or(20_000));
}

#[test]
fn the_same_with_real_signatures() {
    schedules::<Plain<Really>, InMemory>(1_000_001, 200);
}

#[test]
fn the_same_with_the_phones_core_and_the_hubs_file() {
    schedules::<Handset<true>, OnFile<true>>(2_000_001, number("HEADMARK_REAL_SCHEDULES").unwrap_or(200));
}

/// The schedules above are worth something only if these find losses.
#[test]
fn a_phone_or_a_hub_that_does_not_sync_is_found_out() {
    fn found_out<P: Phone, H: House>() -> usize {
        let runtime = runtime();
        let holds = |seed: &u64| {
            std::panic::catch_unwind(AssertUnwindSafe(|| runtime.block_on(play::<P, H>(*seed)))).is_ok()
        };
        SEEDS.filter(|seed| !holds(seed)).count()
    }
    const SEEDS: std::ops::Range<u64> = 3_000_000..3_000_024;
    let (phones, hubs) =
        (found_out::<Handset<false>, OnFile<true>>(), found_out::<Handset<true>, OnFile<false>>());
    println!("of {} schedules {phones} lost something on phones and {hubs} at the hub", SEEDS.count());
    assert!(phones > 3 && hubs > 3, "{phones} and {hubs} found losses");
}

#[test]
fn a_seed_plays_the_same_deeds_again() {
    let runtime = runtime();
    let plain = || runtime.block_on(play::<Plain<Cheaply>, InMemory>(7));
    assert_eq!(plain(), plain());
    for seed in [7, 8, 9] {
        let real = || runtime.block_on(play::<Handset<true>, OnFile<true>>(seed));
        assert_eq!(real(), real());
    }
}
