//! Draws of errors by their shapes, of the size one, shared by the visits of a block.
//!
//! The draws of JCGM 101 need not be new ones for each visit: what is looked at is how wide the intervals are and how often
//! they hold the truth, over many visits. Those of one block of visits share their draws, so that all visits can have an
//! interval; a new block draws anew.

use std::collections::BTreeMap;

use crate::chance::{Chance, Shape};

/// A block's draws.
pub(crate) struct Draws {
    chance: Chance,
    /// By the place of an error and its shape.
    columns: BTreeMap<(usize, Form), Vec<f64>>,
}

/// A shape without its size.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Form {
    Normal,
    Rectangle,
    Student(u32),
}

impl Draws {
    /// How many draws make an interval. The ends of 95 % then scatter by about 5 % of its width, and the median over
    /// the blocks by far less.
    pub(crate) const MANY: usize = 1000;
    /// How many visits share their draws.
    pub(crate) const BLOCK: u32 = 100;

    pub(crate) fn of_block(seed: u64) -> Draws {
        Draws { chance: Chance::seeded(seed ^ 0x7AC1_E5D0), columns: BTreeMap::new() }
    }

    /// The draws of each error, and what they are to be multiplied by; a mean of few repeats as a normal one, if asked.
    pub(crate) fn columns(&mut self, shapes: &[Shape], as_normal: bool) -> Vec<(&[f64], f64)> {
        let forms: Vec<(Form, f64)> = shapes
            .iter()
            .map(|shape| match *shape {
                Shape::Normal(standard) => (Form::Normal, standard),
                Shape::Rectangle(half) => (Form::Rectangle, half),
                Shape::Student(standard, _) if as_normal => (Form::Normal, standard),
                Shape::Student(standard, freedom) => (Form::Student(freedom), standard),
            })
            .collect();
        for (at, (form, _)) in forms.iter().enumerate() {
            let chance = &mut self.chance;
            self.columns.entry((at, *form)).or_insert_with(|| {
                let one = match *form {
                    Form::Normal => Shape::Normal(1.0),
                    Form::Rectangle => Shape::Rectangle(1.0),
                    Form::Student(freedom) => Shape::Student(1.0, freedom),
                };
                (0..Draws::MANY).map(|_| chance.error(one)).collect()
            });
        }
        forms
            .iter()
            .enumerate()
            .map(|(at, (form, size))| (self.columns[&(at, *form)].as_slice(), *size))
            .collect()
    }
}
