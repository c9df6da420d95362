//! The columns of a table: the register's fields by their names, with dots where one lies within another.

/// What a cell of a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Holds {
    /// A text, as a person writes it.
    Text,
    /// `true` or `false`; empty is as the register's own file without the field.
    Flag,
    /// Several texts, with `;` between.
    List,
}

/// A column that there can be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Column {
    /// Its name; `N` stands for a number from 1.
    pub name: &'static str,
    /// What its cells hold.
    pub holds: Holds,
    /// Whether a table must have it.
    pub needed: bool,
}

/// Returns every column that there can be, in the order of `REGISTER-CSV.md`.
#[must_use]
pub fn columns() -> &'static [Column] {
    COLUMNS
}

/// Returns the column of a name as a table writes it, in which a number may stand for `N`.
pub(super) fn of_name(name: &str) -> Option<Column> {
    let parts = name.split('.').map(|part| if numbered(part) { "N" } else { part });
    let general: Vec<&str> = parts.collect();
    let general = general.join(".");
    COLUMNS.iter().copied().find(|column| column.name == general)
}

/// Whether a part of a name is a number from 1, written in one way only.
pub(super) fn numbered(part: &str) -> bool {
    !part.starts_with('0')
        && part.len() <= 3
        && !part.is_empty()
        && part.bytes().all(|byte| byte.is_ascii_digit())
}

const fn text(name: &'static str) -> Column {
    Column { name, holds: Holds::Text, needed: false }
}

const fn need(name: &'static str) -> Column {
    Column { name, holds: Holds::Text, needed: true }
}

const fn flag(name: &'static str) -> Column {
    Column { name, holds: Holds::Flag, needed: false }
}

const fn list(name: &'static str) -> Column {
    Column { name, holds: Holds::List, needed: false }
}

const COLUMNS: &[Column] = &[
    need("tag"),
    need("service"),
    need("serial"),
    list("codes"),
    need("site.name"),
    need("site.latitude"),
    need("site.altitude"),
    flag("site.hazards.zoned"),
    flag("site.hazards.pit"),
    text("site.hazards.permit"),
    flag("site.hazards.phone_allowed"),
    text("site.hazards.note"),
    need("site.liquid_temperature"),
    text("site.coldest"),
    text("site.warmest"),
    need("site.lengths"),
    need("liquid.name"),
    text("liquid.density"),
    text("liquid.at"),
    text("liquid.expansion"),
    text("liquid.uncertainty"),
    flag("liquid.drinking"),
    flag("liquid.harmful"),
    need("unit"),
    need("riser"),
    need("riser_from"),
    need("span"),
    need("lrv"),
    need("urv"),
    flag("reverse"),
    need("limits.lrl"),
    need("limits.url"),
    need("limits.min_span"),
    need("limits.max_working"),
    text("limits.trim_limit"),
    need("limits.accuracy"),
    need("limits.zero_allowance"),
    text("sill"),
    text("floor"),
    text("hatch"),
    text("overflow"),
    text("elevations.N.name"),
    text("elevations.N.height"),
    need("tolerance"),
    text("adjust_limit"),
    need("trim_rule"),
    need("head_plan"),
    text("offset_on_record"),
    text("offset_date"),
    text("adjust_note"),
    list("safety"),
    list("back"),
    text("tapes.N.id"),
    text("tapes.N.uncertainty"),
    text("tapes.N.due"),
    text("tapes.N.expansion"),
    text("tapes.N.at"),
    text("tapes.N.pull"),
    text("tapes.N.section"),
    text("tapes.N.modulus"),
    text("others.N.name"),
    text("others.N.uncertainty"),
    text("others.N.shares"),
    flag("crew.climb"),
    flag("crew.hatch_from_ground"),
    flag("crew.never_vent"),
    text("interval"),
    text("earlier.N.date"),
    text("earlier.N.offset"),
    text("earlier.N.density"),
    text("earlier.N.gravity"),
    text("earlier.N.uncertainty"),
    text("earlier.N.left"),
    text("earlier.N.error"),
    text("earlier.N.tolerance"),
    text("earlier.N.serial"),
    text("earlier.N.by"),
    text("earlier.N.tape"),
    flag("earlier.N.moved"),
    text("position"),
    text("due"),
    text("work"),
    flag("safety_function"),
    text("mounting.kind"),
    text("mounting.top"),
    text("mounting.tap"),
    text("mounting.heights_from"),
    text("mounting.fill.name"),
    text("mounting.fill.density"),
    text("mounting.fill.at"),
    text("mounting.fill.expansion"),
    text("mounting.fill.uncertainty"),
    text("mounting.light.name"),
    text("mounting.light.density"),
    text("mounting.light.at"),
    text("mounting.light.expansion"),
    text("mounting.light.uncertainty"),
    text("mounting.vapour_density"),
    text("mounting.vapour_molar_mass"),
    text("mounting.working_pressure"),
    text("mounting.line_temperature"),
    text("mounting.fill_temperature"),
    text("riser_pipe.bore"),
    text("riser_pipe.most_flow"),
    text("riser_pipe.length"),
    text("riser_pipe.roughness"),
    text("riser_pipe.entry"),
    text("riser_pipe.fittings"),
    text("riser_pipe.viscosity"),
    flag("riser_pipe.dead_leg"),
    text("overpressure.surge"),
    text("overpressure.shut_off"),
    text("overpressure.hydrotest"),
];

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case("tag", true)]
    #[case("tapes.1.id", true)]
    #[case("tapes.12.due", true)]
    #[case("tapes.01.id", false)]
    #[case("tapes.0.id", false)]
    #[case("tapes.N.id", true)]
    #[case("tapes.id", false)]
    #[case("site", false)]
    #[case("Tag", false)]
    #[case("", false)]
    fn a_name_is_a_field_or_none(#[case] name: &str, #[case] known: bool) {
        assert_eq!(of_name(name).is_some(), known);
    }
}
