//! What it means for our key that Java threw something.
//!
//! Lost is said only where the key will never open again; whatever may go away (a key store that is busy, restarting,
//! or broken in a way that nobody foresaw) is refused, with its own words, and asked again the next time.

use field::KeysError;

use super::thrown::{Link, Thrown};

/// The tag is not the right one.
const BAD_TAG: &str = "javax.crypto.AEADBadTagException";
/// The key is invalid for good.
const INVALIDATED: &str = "android.security.keystore.KeyPermanentlyInvalidatedException";
/// There is an entry, and its key cannot be had.
const UNRECOVERABLE: &str = "java.security.UnrecoverableKeyException";

/// Why a call into Java gave nothing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Failed {
    /// There is no key of ours.
    NoKey,
    /// Java threw.
    Thrown(Thrown),
    /// The bridge to Java, or the thread's way into it.
    Bridge(String),
}

impl From<jni::errors::Error> for Failed {
    fn from(error: jni::errors::Error) -> Failed {
        Failed::Bridge(error.to_string())
    }
}

impl Failed {
    /// Returns whether our key will never open anything again.
    pub(crate) fn is_lost(&self) -> bool {
        match self {
            Failed::NoKey => true,
            Failed::Thrown(thrown) => thrown.is_lost(),
            Failed::Bridge(_) => false,
        }
    }

    /// Returns what the port says.
    pub(crate) fn told(&self) -> KeysError {
        match self {
            lost if lost.is_lost() => KeysError::Lost,
            Failed::Thrown(thrown) => KeysError::Refused { what: thrown.words() },
            Failed::Bridge(what) => KeysError::Refused { what: what.clone() },
            Failed::NoKey => KeysError::Lost,
        }
    }
}

impl Thrown {
    /// A key store that has the entry and cannot load its key says so in one exception, without a cause; a key store
    /// that failed on the way names that failure as the cause, and may have the key the next time.
    fn is_lost(&self) -> bool {
        let is = |link: &Link, class: &str| link.classes.iter().any(|name| name == class);
        let for_good = self.0.iter().any(|link| is(link, BAD_TAG) || is(link, INVALIDATED));
        for_good || matches!(self.0.as_slice(), [only] if is(only, UNRECOVERABLE))
    }

    /// Returns classes and messages, the cause behind what it caused.
    fn words(&self) -> String {
        let words = |link: &Link| {
            let class = link.classes.first().map_or("something unnamed", String::as_str);
            if link.message.is_empty() { class.to_owned() } else { format!("{class}: {}", link.message) }
        };
        self.0.iter().map(words).collect::<Vec<_>>().join("; because of ")
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    const INVALID_KEY: &str = "java.security.InvalidKeyException";
    const PROVIDER: &str = "java.security.ProviderException";

    fn link(classes: &[&str], message: &str) -> Link {
        Link { classes: classes.iter().map(|name| (*name).to_owned()).collect(), message: message.to_owned() }
    }

    #[rstest]
    #[case::bad_tag(vec![vec![BAD_TAG, "javax.crypto.BadPaddingException"]])]
    #[case::bad_tag_of_a_key_store_that_says_why(vec![vec![BAD_TAG], vec!["android.security.KeyStoreException"]])]
    #[case::invalidated(vec![vec![INVALIDATED, INVALID_KEY]])]
    #[case::a_class_below_it(vec![vec!["maker.SpecialException", INVALIDATED, INVALID_KEY]])]
    #[case::invalidated_within(vec![vec![PROVIDER], vec![INVALIDATED, INVALID_KEY]])]
    #[case::unrecoverable(vec![vec![UNRECOVERABLE]])]
    #[case::unrecoverable_because_invalidated(vec![vec![UNRECOVERABLE], vec![INVALIDATED]])]
    fn what_never_opens_again_is_lost(#[case] chain: Vec<Vec<&str>>) {
        let thrown = Thrown(chain.iter().map(|classes| link(classes, "")).collect());
        assert_eq!(Failed::Thrown(thrown).told(), KeysError::Lost);
    }

    #[rstest]
    #[case::busy(vec![vec!["android.security.keystore.BackendBusyException", PROVIDER]])]
    #[case::unrecoverable_for_a_reason(vec![vec![UNRECOVERABLE], vec!["android.security.KeyStoreException"]])]
    #[case::a_key_that_does_not_suit(vec![vec![INVALID_KEY]])]
    #[case::not_unlocked(vec![vec!["android.security.keystore.UserNotAuthenticatedException", INVALID_KEY]])]
    #[case::another_trouble(vec![vec![PROVIDER], vec!["android.security.KeyStoreException"]])]
    #[case::a_name_that_only_looks_like_it(vec![vec!["maker.javax.crypto.AEADBadTagException"]])]
    #[case::unnamed(vec![vec![]])]
    #[case::nothing(vec![])]
    fn whatever_may_go_away_is_refused(#[case] chain: Vec<Vec<&str>>) {
        let thrown = Thrown(chain.iter().map(|classes| link(classes, "")).collect());
        assert!(matches!(Failed::Thrown(thrown).told(), KeysError::Refused { .. }));
    }

    #[test]
    fn it_says_what_was_said() {
        let thrown =
            Thrown(vec![link(&[PROVIDER, "java.lang.RuntimeException"], "no luck"), link(&["a.B"], "")]);
        let what = "java.security.ProviderException: no luck; because of a.B".to_owned();
        assert_eq!(Failed::Thrown(thrown).told(), KeysError::Refused { what });
        assert_eq!(Failed::NoKey.told(), KeysError::Lost);
        let bridge = Failed::from(jni::errors::Error::NullPtr("a result"));
        assert_eq!(bridge.told(), KeysError::Refused { what: "Null pointer in a result".to_owned() });
    }
}
