//! The name under which a key lies in a folder. It is all that the store keeps of the key.

use crate::{Entropy, NoEntropy};

/// The name of a key's files: 32 hexadecimal digits, drawn at random.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct KeyName(String);

/// Stands before the name in what the store keeps. Frozen: the data of phones says it.
const MARK: &str = "key-file:";

impl KeyName {
    /// Draws a name that no other key has.
    ///
    /// # Errors
    ///
    /// [`NoEntropy`].
    pub fn draw(entropy: &dyn Entropy) -> Result<KeyName, NoEntropy> {
        let mut number = [0; 16];
        entropy.fill(&mut number)?;
        Ok(KeyName(number.iter().map(|byte| format!("{byte:02x}")).collect()))
    }

    /// Reads what the store kept; none where it is no name, or one that would lead out of the folder.
    #[must_use]
    pub fn read(kept: &[u8]) -> Option<KeyName> {
        KeyName::plain(std::str::from_utf8(kept).ok()?.strip_prefix(MARK)?)
    }

    /// Returns what the store is to keep.
    #[must_use]
    pub fn kept(&self) -> Vec<u8> {
        format!("{MARK}{}", self.0).into_bytes()
    }

    /// Returns the name of the file with this ending: `sealed`.
    #[must_use]
    pub fn file(&self, ending: &str) -> String {
        format!("{}.{ending}", self.0)
    }

    /// Returns whose file this is, if it is a key's with this ending.
    #[must_use]
    pub fn of_file(file: &str, ending: &str) -> Option<KeyName> {
        KeyName::plain(file.strip_suffix(ending)?.strip_suffix('.')?)
    }

    fn plain(name: &str) -> Option<KeyName> {
        let plain = name.len() == 32 && name.bytes().all(|byte| byte.is_ascii_hexdigit());
        plain.then(|| KeyName(name.to_owned()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::host::HostEntropy;

    #[test]
    fn a_name_goes_into_the_store_and_a_folder_and_comes_back() {
        let name = KeyName::draw(&HostEntropy).unwrap();
        assert_eq!(KeyName::read(&name.kept()).as_ref(), Some(&name));
        assert_eq!(KeyName::of_file(&name.file("key"), "key").as_ref(), Some(&name));
        assert_eq!(KeyName::of_file(&name.file("key"), "sealed"), None);
        assert_ne!(KeyName::draw(&HostEntropy).unwrap(), name);
    }

    #[test]
    fn what_leads_out_of_the_folder_is_no_name() {
        for kept in ["key-file:../../../../../../../etc/hostname", "key-file:", "anything", ""] {
            assert_eq!(KeyName::read(kept.as_bytes()), None, "{kept}");
        }
        assert_eq!(KeyName::of_file("../../../../../../../../../etc/up.key", "key"), None);
    }
}
