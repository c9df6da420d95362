//! The calls on Android's key store, in the order in which they are made.

use jni::objects::{JByteArray, JObject, JValue};
use zeroize::Zeroizing;

use super::called::Java;
use super::meaning::Failed;
use crate::{Ciphered, NONCE};

/// The name of Android's key store.
pub const PROVIDER: &str = "AndroidKeyStore";

/// The alias of our key in it. Frozen: under another one no phone finds its key again.
pub const ALIAS: &str = "org.headmark.field.signing";

const CIPHER: &str = "AES/GCM/NoPadding";
/// `KeyProperties.PURPOSE_ENCRYPT | KeyProperties.PURPOSE_DECRYPT`.
const PURPOSES: i32 = 1 | 2;
/// `Cipher.ENCRYPT_MODE` and `Cipher.DECRYPT_MODE`.
const ENCRYPT: i32 = 1;
const DECRYPT: i32 = 2;
const KEY_BITS: i32 = 256;
const TAG_BITS: i32 = 128;

/// Methods of the builder, by what they take. Each gives the builder.
const WITH_TEXTS: &str = "([Ljava/lang/String;)Landroid/security/keystore/KeyGenParameterSpec$Builder;";
const WITH_NUMBER: &str = "(I)Landroid/security/keystore/KeyGenParameterSpec$Builder;";
const WITH_YES: &str = "(Z)Landroid/security/keystore/KeyGenParameterSpec$Builder;";

/// Where a key is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Place {
    /// In a security chip of its own.
    StrongBox,
    /// Where the platform keeps keys by itself.
    Platform,
}

/// The place of our key: the key store's name, and the alias in it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Entry<'a> {
    pub(super) provider: &'a str,
    pub(super) alias: &'a str,
}

impl Entry<'_> {
    /// Returns the key.
    pub(super) fn key<'l>(&self, java: &mut Java<'_, 'l>) -> Result<JObject<'l>, Failed> {
        let (store, alias) = (self.store(java)?, java.text(self.alias)?);
        let get = ("getKey", "(Ljava/lang/String;[C)Ljava/security/Key;");
        let key = java.ask(&store, get, &[(&alias).into(), (&JObject::null()).into()])?;
        if key.is_null() { Err(Failed::NoKey) } else { Ok(key) }
    }

    /// Removes the key, if there is one.
    pub(super) fn remove(&self, java: &mut Java<'_, '_>) -> Result<(), Failed> {
        let (store, alias) = (self.store(java)?, java.text(self.alias)?);
        java.tell(&store, ("deleteEntry", "(Ljava/lang/String;)V"), &[(&alias).into()])
    }

    fn store<'l>(&self, java: &mut Java<'_, 'l>) -> Result<JObject<'l>, Failed> {
        let provider = java.text(self.provider)?;
        let get = ("getInstance", "(Ljava/lang/String;)Ljava/security/KeyStore;");
        let store = java.ask_class("java/security/KeyStore", get, &[(&provider).into()])?;
        let load = ("load", "(Ljava/security/KeyStore$LoadStoreParameter;)V");
        java.tell(&store, load, &[(&JObject::null()).into()])?;
        Ok(store)
    }

    /// Makes the key, in place of any that is there.
    pub(super) fn make<'l>(&self, java: &mut Java<'_, 'l>) -> Result<JObject<'l>, Failed> {
        self.make_in(java, Place::StrongBox).or_else(|failed| {
            tracing::debug!(?failed, "no key in a security chip of its own");
            self.make_in(java, Place::Platform)
        })
    }

    fn make_in<'l>(&self, java: &mut Java<'_, 'l>, place: Place) -> Result<JObject<'l>, Failed> {
        let spec = self.spec(java, place)?;
        let (aes, provider) = (java.text("AES")?, java.text(self.provider)?);
        let get = ("getInstance", "(Ljava/lang/String;Ljava/lang/String;)Ljavax/crypto/KeyGenerator;");
        let with = [(&aes).into(), (&provider).into()];
        let generator = java.ask_class("javax/crypto/KeyGenerator", get, &with)?;
        let init = ("init", "(Ljava/security/spec/AlgorithmParameterSpec;)V");
        java.tell(&generator, init, &[(&spec).into()])?;
        java.ask(&generator, ("generateKey", "()Ljavax/crypto/SecretKey;"), &[])
    }

    /// Says what the key may do.
    fn spec<'l>(&self, java: &mut Java<'_, 'l>, place: Place) -> Result<JObject<'l>, Failed> {
        let alias = java.text(self.alias)?;
        let class = "android/security/keystore/KeyGenParameterSpec$Builder";
        let builder =
            java.make(class, "(Ljava/lang/String;I)V", &[(&alias).into(), JValue::Int(PURPOSES)])?;
        let (modes, paddings) = (java.texts("GCM")?, java.texts("NoPadding")?);
        let yes = JValue::Bool(1);
        java.ask(&builder, ("setBlockModes", WITH_TEXTS), &[(&modes).into()])?;
        java.ask(&builder, ("setEncryptionPaddings", WITH_TEXTS), &[(&paddings).into()])?;
        java.ask(&builder, ("setKeySize", WITH_NUMBER), &[JValue::Int(KEY_BITS)])?;
        java.ask(&builder, ("setRandomizedEncryptionRequired", WITH_YES), &[yes])?;
        if place == Place::StrongBox {
            java.ask(&builder, ("setIsStrongBoxBacked", WITH_YES), &[yes])?;
        }
        java.ask(&builder, ("build", "()Landroid/security/keystore/KeyGenParameterSpec;"), &[])
    }

    /// Enciphers a secret. The key store draws the nonce.
    pub(super) fn seal(
        &self,
        java: &mut Java<'_, '_>,
        key: &JObject<'_>,
        secret: &[u8; 32],
        bound_to: &[u8],
    ) -> Result<Ciphered, Failed> {
        let cipher = cipher(java)?;
        java.tell(&cipher, ("init", "(ILjava/security/Key;)V"), &[JValue::Int(ENCRYPT), key.into()])?;
        let nonce = JByteArray::from(java.ask(&cipher, ("getIV", "()[B"), &[])?);
        let nonce = java.read(&nonce)?;
        let nonce = <[u8; NONCE]>::try_from(nonce.as_slice())
            .map_err(|_| Failed::Bridge(format!("its nonce has {} bytes, not {NONCE}", nonce.len())))?;
        let secret = java.bytes(secret)?;
        let text = run(java, &cipher, bound_to, &secret);
        java.wipe(&secret)?;
        let text = java.read(&text?)?.to_vec();
        Ok(Ciphered { nonce, text })
    }

    /// Deciphers a secret.
    pub(super) fn open(
        &self,
        java: &mut Java<'_, '_>,
        key: &JObject<'_>,
        ciphered: &Ciphered,
        bound_to: &[u8],
    ) -> Result<Zeroizing<Vec<u8>>, Failed> {
        let (cipher, nonce) = (cipher(java)?, java.bytes(&ciphered.nonce)?);
        let with = [JValue::Int(TAG_BITS), (&nonce).into()];
        let parameters = java.make("javax/crypto/spec/GCMParameterSpec", "(I[B)V", &with)?;
        let init = ("init", "(ILjava/security/Key;Ljava/security/spec/AlgorithmParameterSpec;)V");
        java.tell(&cipher, init, &[JValue::Int(DECRYPT), key.into(), (&parameters).into()])?;
        let text = java.bytes(&ciphered.text)?;
        let opened = run(java, &cipher, bound_to, &text)?;
        let secret = java.read(&opened);
        java.wipe(&opened)?;
        secret
    }
}

fn cipher<'l>(java: &mut Java<'_, 'l>) -> Result<JObject<'l>, Failed> {
    let name = java.text(CIPHER)?;
    let get = ("getInstance", "(Ljava/lang/String;)Ljavax/crypto/Cipher;");
    java.ask_class("javax/crypto/Cipher", get, &[(&name).into()])
}

/// Runs a cipher that was told its key over some bytes and what they are bound to.
fn run<'l>(
    java: &mut Java<'_, 'l>,
    cipher: &JObject<'_>,
    bound_to: &[u8],
    bytes: &JByteArray<'_>,
) -> Result<JByteArray<'l>, Failed> {
    let bound_to = java.bytes(bound_to)?;
    java.tell(cipher, ("updateAAD", "([B)V"), &[(&bound_to).into()])?;
    java.ask(cipher, ("doFinal", "([B)[B"), &[bytes.into()]).map(JByteArray::from)
}
