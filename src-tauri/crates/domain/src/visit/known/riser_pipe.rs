//! The riser as a pipe, read.

use uom::si::dynamic_viscosity::millipascal_second;
use uom::si::f64::{DynamicViscosity, Length, VolumeRate};
use uom::si::length::millimeter;

use super::{Known, Reader};
use crate::head::Pipe;
use crate::head::mounting::Mounting;
use crate::quantity::{FlowUnit, LengthSystem, read_flow};
use crate::visit::{Instrument, RiserPipe, usual};

/// Whether a riser carries flow, as the register says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum KnownRiser {
    /// The register does not say.
    NotSaid,
    /// The transmitter's line branches off a dead leg: no flow passes its tap.
    DeadLeg,
    /// It carries flow.
    Carries(KnownPipe),
}

/// A riser that carries flow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KnownPipe {
    /// The pipe.
    pub pipe: Pipe,
    /// The largest flow it usually carries.
    pub most: VolumeRate,
    /// True where its roughness is stated.
    pub roughness_stated: bool,
    /// The viscosity of a liquid that is not water.
    pub viscosity: Option<DynamicViscosity>,
}

impl Known {
    /// Tells whether water may run past the transmitter's tap: under an open tank, in the riser itself.
    #[must_use]
    pub fn may_flow(&self) -> bool {
        self.flow_riser != KnownRiser::DeadLeg && self.is_open_riser()
    }

    /// Returns the riser as a pipe, where the register describes it.
    #[must_use]
    pub fn pipe(&self) -> Option<&KnownPipe> {
        match &self.flow_riser {
            KnownRiser::Carries(pipe) => Some(pipe),
            _ => None,
        }
    }

    fn is_open_riser(&self) -> bool {
        matches!(self.mounted.mounting, Mounting::Riser { .. })
    }
}

/// Returns the unit in which a site speaks of flow: as its register writes it, else what goes with its lengths.
pub(super) fn unit(row: &Instrument, people: LengthSystem) -> FlowUnit {
    let written = row.riser_pipe.as_ref().and_then(|pipe| read_flow(&pipe.most_flow).ok());
    written.map_or(
        match people {
            LengthSystem::Feet => FlowUnit::UsGallonPerMinute,
            LengthSystem::Metres => FlowUnit::LitrePerSecond,
        },
        |entry| entry.unit,
    )
}

/// Reads the pipe of a row whose riser has been read.
pub(super) fn read(reader: &mut Reader, row: &Instrument, riser: Length) -> KnownRiser {
    let Some(pipe) = &row.riser_pipe else { return KnownRiser::NotSaid };
    if pipe.dead_leg {
        reader.nothing_else(pipe);
        return KnownRiser::DeadLeg;
    }
    reader.pipe(row, pipe, riser).map_or(KnownRiser::NotSaid, KnownRiser::Carries)
}

/// Says what only the whole row tells: whether such a mounting has a riser that water runs through.
pub(super) fn check(reader: &mut Reader, known: &Known) {
    if known.flow_riser != KnownRiser::NotSaid && !known.is_open_riser() {
        let text = "Only a riser under an open tank carries flow past its transmitter. Take it out, or check the mounting.";
        reader.fault("riser_pipe", text.to_owned());
    }
}

impl Reader {
    fn nothing_else(&mut self, of: &RiserPipe) {
        let texts =
            [&of.bore, &of.most_flow, &of.length, &of.roughness, &of.entry, &of.fittings, &of.viscosity];
        if texts.iter().any(|text| !text.trim().is_empty()) {
            let text =
                "In a dead leg no flow runs, so nothing else is needed. Take dead_leg out, or the rest.";
            self.fault("riser_pipe.dead_leg", text.to_owned());
        }
    }

    fn pipe(&mut self, row: &Instrument, of: &RiserPipe, riser: Length) -> Option<KnownPipe> {
        let bore = self.length("riser_pipe.bore", &of.bore);
        let most = self.take("riser_pipe.most_flow", read_flow(&of.most_flow)).map(|entry| entry.value);
        self.positive("riser_pipe.most_flow", most.map(|most| most.value));
        let length = self.length_or_none("riser_pipe.length", &of.length);
        let roughness = self.length_or_none("riser_pipe.roughness", &of.roughness);
        let entry = self.velocity_heads("riser_pipe.entry", &of.entry).unwrap_or(usual::SQUARE_ENTRY);
        let fittings = self.velocity_heads("riser_pipe.fittings", &of.fittings).unwrap_or_default();
        let viscosity = self.viscosity(row, of);
        let rough = roughness.unwrap_or_else(|| Length::new::<millimeter>(usual::ROUGHNESS));
        let made = Pipe::new(bore?, length.unwrap_or(riser.abs()), rough, entry);
        let pipe = self.head("riser_pipe", made)?;
        let pipe = self.head("riser_pipe.fittings", pipe.with_fittings(fittings))?;
        Some(KnownPipe { pipe, most: most?, roughness_stated: roughness.is_some(), viscosity: viscosity? })
    }

    fn velocity_heads(&mut self, field: &str, text: &str) -> Option<f64> {
        if text.trim().is_empty() {
            return None;
        }
        let number = self.number(field, text);
        self.not_negative(field, number);
        number.filter(|number| *number >= 0.0)
    }

    /// Water has its own; of another liquid nobody can guess it. None where something is wrong.
    fn viscosity(&mut self, row: &Instrument, of: &RiserPipe) -> Option<Option<DynamicViscosity>> {
        let field = "riser_pipe.viscosity";
        let water = row.liquid.name.trim().eq_ignore_ascii_case("water");
        match (water, of.viscosity.trim().is_empty()) {
            (true, true) => Some(None),
            (true, false) => {
                self.fault(
                    field,
                    "That of water is known here. Take it out, or check the liquid.".to_owned(),
                );
                None
            }
            (false, true) => {
                let text = "A liquid other than water needs it. Write its viscosity in mPa s, number alone.";
                self.fault(field, text.to_owned());
                None
            }
            (false, false) => {
                let number = self.number(field, &of.viscosity)?;
                self.positive(field, Some(number));
                Some(Some(DynamicViscosity::new::<millipascal_second>(number)))
            }
        }
    }
}
