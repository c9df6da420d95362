//! Where the signing key lies: sealed by Android's key store; elsewhere in a private file that nothing seals, on an
//! Apple phone too, until there is a build for one.

use field::Keys;
use tauri::AppHandle;

use crate::places::Places;

/// Returns what gives a phone its keys each time it is opened.
#[cfg(not(target_os = "android"))]
pub(crate) fn of(_: &AppHandle, places: &Places) -> impl Fn() -> Box<dyn Keys> + Send + Sync + use<> {
    let folder = places.keys();
    move || Box::new(field::host::KeyFolder::at(&folder))
}

/// Returns what gives a phone its keys each time it is opened.
#[cfg(target_os = "android")]
pub(crate) fn of(app: &AppHandle, places: &Places) -> impl Fn() -> Box<dyn Keys> + Send + Sync + use<> {
    let (folder, machine) = (places.keys(), crate::java_machine::JavaMachine::of(app));
    move || {
        let store = keystore::java::JavaKeyStore::of_android(machine.clone());
        Box::new(keystore::SealedFolder::at(&folder, store))
    }
}
