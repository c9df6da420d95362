//! Sets of pictures in a folder.

use std::fs;

use camera::{Bare, Kind, png};
use tagcode::Gray;

/// A folder that is being filled, with its index.
pub(crate) struct Set<'a> {
    folder: &'a str,
    index: csv::Writer<fs::File>,
    count: usize,
}

impl Set<'_> {
    pub(crate) fn in_folder(folder: &str) -> Set<'_> {
        fs::create_dir_all(folder).unwrap();
        let mut index = csv::Writer::from_path(format!("{folder}/index.csv")).unwrap();
        index.write_record(["file", "category", "expected"]).unwrap();
        Set { folder, index, count: 0 }
    }

    pub(crate) fn add(&mut self, picture: &Gray, category: &str, expected: &[&str]) {
        self.count += 1;
        let file = format!("{:04}.png", self.count);
        fs::write(format!("{}/{file}", self.folder), png(picture)).unwrap();
        let expected = serde_json::to_string(expected).unwrap();
        self.index.write_record([&file, category, &expected]).unwrap();
    }

    pub(crate) fn close(mut self) {
        self.index.flush().unwrap();
    }
}

pub(crate) fn kinds(folder: &str, each: u64) {
    let mut set = Set::in_folder(folder);
    for kind in Kind::ALL {
        for strength in kind.strengths() {
            for beginning in 1..=each {
                let shot = kind.shot(*strength, beginning);
                set.add(&shot.picture, &format!("{}: {strength}", kind.name()), &[&shot.text]);
            }
        }
    }
    set.close();
}

pub(crate) fn bare(folder: &str, each: u64) {
    let mut set = Set::in_folder(folder);
    for kind in Bare::ALL {
        for beginning in 0..each {
            set.add(&kind.picture(beginning), kind.name(), &[]);
        }
    }
    set.close();
}
