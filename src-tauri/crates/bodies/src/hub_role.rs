//! What a person may do at the hub.

/// What a person may do at the hub; each may what the ones before may. The words are frozen: none ever gets a second
/// meaning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum HubRole {
    /// See.
    Read,
    /// Decide.
    Supervise,
    /// Run the hub.
    Administer,
}

const ROLES: [HubRole; 3] = [HubRole::Read, HubRole::Supervise, HubRole::Administer];

impl HubRole {
    /// Returns the word that stands for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            HubRole::Read => "read",
            HubRole::Supervise => "supervise",
            HubRole::Administer => "administer",
        }
    }

    /// Returns the role that a word stands for.
    #[must_use]
    pub fn from_word(word: &str) -> Option<HubRole> {
        ROLES.into_iter().find(|role| role.word() == word)
    }
}
