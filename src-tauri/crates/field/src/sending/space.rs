//! What photos take on this phone, and giving it back.
//!
//! Only a person frees anything here, and only photos that the hub has signed to be in its backup. That needs no network:
//! the receipts are on the phone.

use store::{Freed, Space};

use super::under::size;
use crate::counted::counted;
use crate::view::{MayGoView, SpaceView};
use crate::{Error, Phone};

impl Phone {
    /// Takes the photos off this phone that the hub has in its backup, and returns what was freed, in a sentence.
    ///
    /// # Errors
    ///
    /// What the store says; what was freed until then stays so.
    pub fn photos_free(&self) -> Result<String, Error> {
        Ok(freed(&self.store().free_photos()?))
    }

    pub(super) fn space_view(&self, has_hub: bool) -> Result<SpaceView, Error> {
        Ok(shown(&self.store().photo_space()?, has_hub))
    }
}

fn shown(space: &Space, has_hub: bool) -> SpaceView {
    let Space { here, may_go } = space;
    let takes = match here.photos {
        0 => "No photos take space on this phone.".to_owned(),
        1 => format!("1 photo takes {} on this phone.", size(here.bytes)),
        more => format!("{more} photos take {} on this phone.", size(here.bytes)),
    };
    let staying = here.photos.saturating_sub(may_go.photos);
    SpaceView { takes, may_go: going(may_go), stays: stays(staying, may_go.photos == 0, has_hub) }
}

fn going(may_go: &Freed) -> Option<MayGoView> {
    if may_go.photos == 0 {
        return None;
    }
    let (photos, space) = (counted(may_go.photos, "photo"), size(may_go.bytes));
    let (is, means) = if may_go.photos == 1 {
        let means = "The hub has signed that this photo is in its backup. After this it can be seen at the hub only, and \
                     does not come back to this phone. The record stays here.";
        ("is", means.to_owned())
    } else {
        let means = format!(
            "The hub has signed that these {photos} are in its backup. After this they can be seen at the hub only, and \
             do not come back to this phone. The records stay here."
        );
        ("are", means)
    };
    Some(MayGoView {
        says: format!("{photos}, {space}, {is} in the hub's backup and may go."),
        button: format!("Free {space}"),
        ask: format!("Take {photos} off this phone?"),
        means,
    })
}

fn stays(staying: u32, all: bool, has_hub: bool) -> String {
    let until = match (staying, has_hub) {
        (0, _) => return String::new(),
        (1, false) => "stays: this phone belongs to no hub yet.",
        (_, false) => "stay: this phone belongs to no hub yet.",
        (1, true) => "stays until the hub says that it is in its backup.",
        (_, true) => "stay until the hub says that they are in its backup.",
    };
    match (all, staying) {
        (true, 1) => format!("It {until}"),
        (true, _) => format!("They {until}"),
        (false, staying) => format!("{} {until}", counted(staying, "photo")),
    }
}

fn freed(freed: &Freed) -> String {
    match freed.photos {
        0 => "Nothing was freed: the hub has not said of any photo here that it is in its backup.".to_owned(),
        1 => format!("1 photo was taken off this phone, which frees {}.", size(freed.bytes)),
        more => format!("{more} photos were taken off this phone, which frees {}.", size(freed.bytes)),
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    fn space(here: u32, may_go: u32) -> Space {
        let freed = |photos| Freed { photos, bytes: u64::from(photos) * 2_100_000 };
        Space { here: freed(here), may_go: freed(may_go) }
    }

    #[rstest]
    #[case::none(space(0, 0), true, "No photos take space on this phone.", None, "")]
    #[case::no_hub(
        space(2, 0),
        false,
        "2 photos take 4.2 MB on this phone.",
        None,
        "They stay: this phone belongs to no hub yet."
    )]
    #[case::one_not_backed_up(
        space(1, 0),
        true,
        "1 photo takes 2.1 MB on this phone.",
        None,
        "It stays until the hub says that it is in its backup."
    )]
    #[case::some(
        space(4, 3),
        true,
        "4 photos take 8.4 MB on this phone.",
        Some("3 photos, 6.3 MB, are in the hub's backup and may go."),
        "1 photo stays until the hub says that it is in its backup."
    )]
    #[case::all(
        space(1, 1),
        true,
        "1 photo takes 2.1 MB on this phone.",
        Some("1 photo, 2.1 MB, is in the hub's backup and may go."),
        ""
    )]
    fn what_photos_take_may_go_or_stays(
        #[case] space: Space,
        #[case] has_hub: bool,
        #[case] takes: &str,
        #[case] may_go: Option<&str>,
        #[case] stays: &str,
    ) {
        let shown = shown(&space, has_hub);
        assert_eq!((shown.takes.as_str(), shown.stays.as_str()), (takes, stays));
        assert_eq!(shown.may_go.as_ref().map(|may_go| may_go.says.as_str()), may_go);
    }
}
