//! People for tests on a real file.
#![allow(dead_code, unused_imports, reason = "each test program uses its part of this")]

mod signers;

pub(crate) use signers::{EPOCH, Phone, Writer, arrived, as_device, as_hub, kept, place};
