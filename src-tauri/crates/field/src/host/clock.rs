//! The operating system's clocks.

use std::fs;
use std::time::{Duration, Instant};

use chrono::{Local, Offset, Utc};
use domain::visit::Moment;

use crate::{Clock, Now, SinceBoot};

/// The clocks of the computer or phone.
///
/// Linux tells how long it has run, sleep included, and names each of its starts. Other systems, and phones
/// that hide it from apps, do not: records then say nothing of it.
#[derive(Debug)]
pub struct HostClock {
    began: Instant,
}

impl HostClock {
    /// Begins to count the ticks.
    #[must_use]
    pub fn start() -> HostClock {
        HostClock { began: Instant::now() }
    }
}

impl Clock for HostClock {
    fn now(&self) -> Now {
        let local = Local::now();
        let minutes = local.offset().fix().local_minus_utc() / 60;
        Now {
            wall: Moment(local.with_timezone(&Utc).timestamp_millis()),
            offset_minutes: i16::try_from(minutes).unwrap_or(0),
            since_boot: since_boot(),
        }
    }

    fn ticks(&self) -> Duration {
        self.began.elapsed()
    }
}

fn since_boot() -> Option<SinceBoot> {
    let uptime = fs::read_to_string("/proc/uptime").ok()?;
    let seconds: f64 = uptime.split_whitespace().next()?.parse().ok()?;
    let boot = fs::read_to_string("/proc/sys/kernel/random/boot_id").ok()?;
    let mark = *uuid::Uuid::try_parse(boot.trim()).ok()?.as_bytes();
    Some(SinceBoot { elapsed: Duration::try_from_secs_f64(seconds).ok()?, mark })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_go_forward() {
        let clock = HostClock::start();
        let first = clock.ticks();
        assert!(clock.ticks() >= first);
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn elapsed_time_goes_forward_under_one_mark_for_every_process() {
        let (one, other) = (HostClock::start().now(), HostClock::start().now());
        let (one, other) = (one.since_boot.unwrap(), other.since_boot.unwrap());
        assert_eq!(one.mark, other.mark);
        assert!(other.elapsed >= one.elapsed);
    }
}
