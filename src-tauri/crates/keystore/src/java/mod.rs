//! A platform's key store that is reached through Java: Android's.
//!
//! The classes and what they promise are those of Android's public reference (developer.android.com/reference), of the
//! API levels that the Android project asks for (24 and up):
//!
//! | class | what is asked of it |
//! |---|---|
//! | `java.security.KeyStore` | `getInstance("AndroidKeyStore")`, `load(null)`, `getKey`, `deleteEntry` |
//! | `javax.crypto.KeyGenerator` | `getInstance("AES", "AndroidKeyStore")`, `init(spec)`, `generateKey` |
//! | `android.security.keystore.KeyGenParameterSpec.Builder` | what the key may do, below |
//! | `javax.crypto.Cipher` | `getInstance("AES/GCM/NoPadding")`, `init`, `getIV`, `updateAAD`, `doFinal` |
//! | `javax.crypto.spec.GCMParameterSpec` | tag of 128 bits, and the nonce |
//! | `javax.crypto.AEADBadTagException` | the tag is not the right one: another key, marker or byte |
//! | `android.security.keystore.KeyPermanentlyInvalidatedException` | the key is invalid for good |
//! | `java.security.UnrecoverableKeyException` | `getKey` has the entry and not its key |
//! | `android.security.keystore.StrongBoxUnavailableException` | no security chip of its own (API 28) |
//!
//! The key is made once, under one alias: AES of 256 bits, to encipher and decipher in GCM without padding, with a nonce
//! that the key store draws (`setRandomizedEncryptionRequired`). It is asked for in a security chip of its own
//! (StrongBox) first; where that fails in any way, an older Android that does not know the word included, it is made
//! where the platform keeps keys by itself.
//!
//! It is not bound to a person's unlocking (`setUserAuthenticationRequired` stays off). A record is signed while the
//! app's screen is on, so the phone is unlocked anyway; what is sent in the background asks for the key too; and a key
//! that is bound becomes invalid for good when the screen lock is taken away, which would end the log.
//!
//! Every call clears what it threw, every local reference goes with its frame, and a thread that was attached for a
//! call is detached after it.

mod android;
mod called;
mod meaning;
mod store;
mod thrown;

pub use android::{ALIAS, PROVIDER};
/// The Java machine, as a [`Machine`] hands it out.
pub use jni::JavaVM;
pub use store::{JavaKeyStore, Machine};
