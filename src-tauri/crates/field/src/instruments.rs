//! An instrument before a visit: what to know before a phone comes out, and what its plate should say.

use domain::visit::{Instrument, safety};

use crate::message::saying;
use crate::past::WithPast;
use crate::view::{Grade, InstrumentView, Message, Plate};
use crate::{Error, Phone, message, show, tag};

/// How many earlier visits of one instrument are listed.
const MOST_EARLIER: u32 = 20;

impl Phone {
    /// Returns an instrument by its tag.
    ///
    /// # Errors
    ///
    /// [`Error::NoInstrument`], and what the store says.
    pub fn instrument(&self, tag: &str) -> Result<InstrumentView, Error> {
        let WithPast { row: instrument, unread } = self.row_with_past(tag)?;
        let key = tag::key(&instrument.tag);
        let draft = self.draft_lines()?.into_iter().find(|line| tag::key(&line.tag) == key);
        let signed = self.store().signed_of(&key, MOST_EARLIER)?;
        let (codes, mut messages) = self.codes_on(&instrument)?;
        messages.extend(self.unit_pending(&instrument)?);
        messages.extend(self.declined_on(&key)?);
        Ok(InstrumentView {
            hazards: safety::before_scanning(&instrument).iter().map(message::plain).collect(),
            plate: plate(&instrument),
            history: show::history_before(&instrument, unread),
            refusal: safety::refusal(&instrument).as_ref().map(message::plain),
            tag: instrument.tag,
            service: instrument.service,
            site: instrument.site.name,
            codes,
            messages,
            draft,
            signed: signed.iter().map(|visit| self.signed_line(visit)).collect::<Result<_, _>>()?,
        })
    }

    /// Returns the register's row of an instrument.
    pub(crate) fn register_row(&self, tag: &str) -> Result<Instrument, Error> {
        let text = self.store().instrument(&tag::key(tag))?.ok_or(Error::NoInstrument)?;
        let mut row = serde_json::from_str(&text).map_err(|_| Error::UnreadableInstrument)?;
        self.pending()?.fit(&mut row);
        Ok(row)
    }

    /// Says that the row shows a unit which the register does not know yet.
    fn unit_pending(&self, row: &Instrument) -> Result<Option<Message>, Error> {
        let pending = self.pending()?;
        let unit = pending.unit(&tag::key(&row.tag)).filter(|unit| unit.serial == row.serial);
        let Some(unit) = unit.filter(|unit| unit.before != unit.serial) else { return Ok(None) };
        let known = self.store().instrument(&tag::key(&row.tag))?.unwrap_or_default();
        let known: Instrument = serde_json::from_str(&known).map_err(|_| Error::UnreadableInstrument)?;
        let text = format!(
            "Another unit was found here: {}. Its serial number and limits are pending: the register still has {}.",
            unit.serial, unit.before
        );
        let said = saying("unit.pending", Grade::Note, &text, "");
        Ok((known.serial == unit.before).then_some(said))
    }
}

/// Lists what can be compared with the plate.
pub(crate) fn nameplate(instrument: &Instrument) -> Vec<Plate> {
    const ON_THE_PLATE: usize = 5;
    let service = Plate { what: "Service".into(), value: instrument.service.clone() };
    std::iter::once(service).chain(plate(instrument).into_iter().take(ON_THE_PLATE)).collect()
}

/// Lists what can be compared with the plate, then what the register knows besides. What it does not know
/// is left out.
fn plate(instrument: &Instrument) -> Vec<Plate> {
    let limits = &instrument.limits;
    let offset = match (instrument.offset_on_record.as_str(), instrument.offset_date.as_str()) {
        ("", _) => String::new(),
        (offset, "") => format!("{offset} {}", instrument.unit),
        (offset, date) => format!("{offset} {} ({date})", instrument.unit),
    };
    let lines = [
        ("Tag", instrument.tag.clone()),
        ("Serial number", instrument.serial.clone()),
        ("Range (LRV to URV)", format!("{} to {} {}", instrument.lrv, instrument.urv, instrument.unit)),
        ("Sensor limits (LRL to URL)", format!("{} to {}", limits.lrl, limits.url)),
        ("Maximum working pressure", limits.max_working.clone()),
        ("Liquid", instrument.liquid.name.clone()),
        ("Riser", format!("{} (by {})", instrument.riser, instrument.riser_from)),
        ("Mounting", mounting(instrument)),
        ("Level at 100 %", instrument.span.clone()),
        ("Tolerance", instrument.tolerance.clone()),
        ("Offset on record", offset),
    ];
    let known = lines.into_iter().filter(|(_, value)| !value.is_empty());
    known.map(|(what, value)| Plate { what: what.into(), value }).collect()
}

/// Says how the transmitter is mounted, where the register says more than a riser's height.
fn mounting(instrument: &Instrument) -> String {
    let Some(mounted) = &instrument.mounting else { return String::new() };
    let kind = match mounted.kind.trim() {
        "above_datum" => "transmitter above the tank's zero",
        "dry_leg" => "closed tank with a dry leg",
        "wet_leg" => "closed tank with a wet leg",
        "one_seal" => "one seal with a capillary",
        "two_seals" => "two seals with capillaries",
        "probe" => "probe in the liquid",
        "interface" => "interface of two liquids",
        _ => "riser or impulse line",
    };
    let fill = mounted.fill.as_ref().map(|fill| format!("; filled with {}", fill.name)).unwrap_or_default();
    format!("{kind}{fill}")
}
