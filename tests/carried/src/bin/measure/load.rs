//! Many phones at once, and what they cost the hub.

use std::sync::Barrier;
use std::thread;
use std::time::Instant;

use anyhow::{Context, Result, ensure};
use carried::{Hub, Phone, Proxy};

use crate::tell;

/// Enrols phones, has all of them send at once, and prints the most memory that the hub had, in KiB, and the time.
pub(crate) fn load(phones: usize, visits: usize) -> Result<()> {
    let hub = Hub::founded()?;
    let by = Proxy::to(hub.at())?;
    let mut all = Vec::with_capacity(phones);
    for number in 0..phones {
        let phone = Phone::new(&format!("phone {number}"))?;
        phone.enrol(&hub, &by)?;
        phone.exchange(&by)?;
        phone.write(visits)?;
        all.push(phone);
    }
    let before = hub.most_memory()?;
    let begun = Instant::now();
    at_once(&all, &by)?;
    let took = begun.elapsed();
    let after = hub.most_memory()?;
    let held = hub.held()?;
    for phone in &all {
        ensure!(held.lacking(&phone.own()?).is_empty(), "{} lost something", phone.name());
    }
    ensure!(held.doubled().is_empty(), "something is there twice");
    let rate = (phones * visits) as f64 / took.as_secs_f64();
    tell(&format!("{before} {after} {:.1} {rate:.0}", took.as_secs_f64()))
}

/// A thread each; none begins before all are ready.
fn at_once(phones: &[Phone], by: &Proxy) -> Result<()> {
    let ready = Barrier::new(phones.len());
    thread::scope(|scope| {
        let send = |phone| {
            let ready = &ready;
            scope.spawn(move || {
                ready.wait();
                Phone::exchange_until_well(phone, by)
            })
        };
        let sending: Vec<_> = phones.iter().map(send).collect();
        for one in sending {
            one.join().ok().context("a phone's thread broke")??;
        }
        Ok(())
    })
}
