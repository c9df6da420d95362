//! A proxy on the way between phones and a hub: it passes bytes on, counts them, and cuts as it is told.
//!
//! Each connection goes on from an address of its own within 127.0.0.0/8, so that many phones on this machine are many
//! to the hub, which counts how often an address asks.

use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::sync::atomic::{AtomicU32, AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use anyhow::Result;
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::tcp::{OwnedReadHalf, OwnedWriteHalf};
use tokio::net::{TcpListener, TcpSocket, TcpStream};
use tokio::task::JoinHandle;

use crate::{Counted, Tally, network};

/// Which way bytes go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// From the phone to the hub.
    Up,
    /// From the hub to the phone.
    Down,
}

/// A proxy. It ends, with its connections, when it goes out of scope.
#[derive(Debug)]
pub struct Proxy {
    at: SocketAddr,
    inside: Arc<Inside>,
    listening: JoinHandle<()>,
}

#[derive(Debug)]
struct Inside {
    rules: Mutex<Rules>,
    tallies: Mutex<Vec<Arc<Mutex<Tally>>>>,
}

#[derive(Debug, Clone)]
struct Rules {
    to: SocketAddr,
    cut: Option<Cut>,
}

/// How much still goes one way before that is cut: a phone may open another connection at any time, so they share it.
#[derive(Debug, Clone)]
struct Cut {
    way: Way,
    left: Arc<AtomicU64>,
}

impl Cut {
    /// Takes as much of `came` as may still go, and says whether that was the last.
    fn take(&self, came: usize) -> (usize, bool) {
        let came = came as u64;
        let after = |left: u64| Some(left.saturating_sub(came));
        let before = self.left.fetch_update(Ordering::Relaxed, Ordering::Relaxed, after).unwrap_or(0);
        (usize::try_from(before.min(came)).unwrap_or(usize::MAX), before <= came)
    }
}

impl Proxy {
    /// A proxy to an address.
    ///
    /// # Errors
    ///
    /// When it cannot listen.
    pub fn to(to: SocketAddr) -> Result<Proxy> {
        let runtime = network()?;
        let listener = runtime.block_on(TcpListener::bind((Ipv4Addr::LOCALHOST, 0)))?;
        let at = listener.local_addr()?;
        let rules = Rules { to, cut: None };
        let inside = Arc::new(Inside { rules: Mutex::new(rules), tallies: Mutex::default() });
        let listening = runtime.spawn(listen(listener, Arc::clone(&inside)));
        Ok(Proxy { at, inside, listening })
    }

    /// Where it listens.
    #[must_use]
    pub fn at(&self) -> SocketAddr {
        self.at
    }

    /// From the next connection on, leads elsewhere.
    pub fn leads_to(&self, to: SocketAddr) {
        lock(&self.inside.rules).to = to;
    }

    /// From the next connection on, all are cut after so many bytes in one direction, counted over all of them.
    pub fn cuts_after(&self, way: Way, bytes: u64) {
        lock(&self.inside.rules).cut = Some(Cut { way, left: Arc::new(AtomicU64::new(bytes)) });
    }

    /// From the next connection on, nothing is cut.
    pub fn cuts_no_more(&self) {
        lock(&self.inside.rules).cut = None;
    }

    /// Returns what went over it since the last time it was asked.
    #[must_use]
    pub fn counted(&self) -> Counted {
        let tallies = std::mem::take(&mut *lock(&self.inside.tallies));
        tallies.iter().fold(Counted::default(), |sum, one| sum.and(lock(one).counted()))
    }
}

impl Drop for Proxy {
    fn drop(&mut self) {
        self.listening.abort();
    }
}

async fn listen(listener: TcpListener, inside: Arc<Inside>) {
    let mut connections = tokio::task::JoinSet::new();
    while let Ok((phone, _)) = listener.accept().await {
        let rules = lock(&inside.rules).clone();
        let tally = Arc::new(Mutex::new(Tally::of_connection()));
        lock(&inside.tallies).push(Arc::clone(&tally));
        connections.spawn(pass(phone, rules, tally));
    }
}

/// Passes bytes on both ways until one side ends, or it is cut: whatever ends first ends both.
async fn pass(phone: TcpStream, rules: Rules, tally: Arc<Mutex<Tally>>) {
    let Ok(hub) = reach(rules.to).await else { return };
    if phone.set_nodelay(true).and(hub.set_nodelay(true)).is_err() {
        return;
    }
    let ((from_phone, to_phone), (from_hub, to_hub)) = (phone.into_split(), hub.into_split());
    tokio::select! {
        _ = one_way(from_phone, to_hub, Way::Up, &rules, &tally) => {}
        _ = one_way(from_hub, to_phone, Way::Down, &rules, &tally) => {}
    }
}

async fn one_way(
    mut from: OwnedReadHalf,
    mut to: OwnedWriteHalf,
    way: Way,
    rules: &Rules,
    tally: &Mutex<Tally>,
) -> std::io::Result<()> {
    let cut = rules.cut.as_ref().filter(|cut| cut.way == way);
    let mut piece = vec![0; 16 * 1024];
    loop {
        let came = from.read(&mut piece).await?;
        let (goes, last) = cut.map_or((came, false), |cut| cut.take(came));
        let bytes = piece.get(..goes).unwrap_or_default();
        lock(tally).went(way, bytes);
        to.write_all(bytes).await?;
        if came == 0 || last {
            return to.flush().await;
        }
    }
}

async fn reach(to: SocketAddr) -> std::io::Result<TcpStream> {
    static NEXT: AtomicU32 = AtomicU32::new(0);
    let number = NEXT.fetch_add(1, Ordering::Relaxed);
    // 127.1.0.1 and on; the last byte is neither 0 nor 255.
    let from = Ipv4Addr::from_bits(0x7f01_0001 + (number / 250 % 60_000) * 256 + number % 250);
    let socket = TcpSocket::new_v4()?;
    socket.bind((IpAddr::V4(from), 0).into())?;
    socket.connect(to).await
}

fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
