//! What a stranger sends to the hub, and what a phone is answered: refused, or read as it would be written.
#![no_main]

use exchange::message::{Answer, Hello, Welcome, read, read_push, session_of, write};
use exchange::plan;
use libfuzzer_sys::fuzz_target;
use minicbor::{Decode, Encode};
use record::{SecretKey, Signer, Strict};

fuzz_target!(|body: &[u8]| {
    if let Some(hello) = again::<Hello>(body) {
        let wanted = plan::wanted(&hello.have, &std::collections::BTreeMap::new(), &[]);
        // Nothing is held here, so everything is asked for.
        assert!(wanted.len() <= hello.have.0.values().map(Vec::len).sum());
    }
    again::<Welcome>(body);
    again::<Answer>(body);
    let key = SecretKey::take(&mut [7; 32]);
    let session = session_of(body);
    let push = read_push(body, |_| Some(key.public().clone()), &Strict);
    // Nobody but its owner has the key, so nothing is ever proved here.
    assert!(push.is_err());
    assert!(session.is_ok() || push.is_err());
});

fn again<M>(body: &[u8]) -> Option<M>
where
    M: for<'b> Decode<'b, ()> + Encode<()> + PartialEq + std::fmt::Debug,
{
    let message: M = read(body).ok()?;
    let written = write(&message).expect("what was read can be written");
    assert_eq!(read::<M>(&written).expect("what was written is read"), message);
    Some(message)
}
