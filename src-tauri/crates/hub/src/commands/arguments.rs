//! What can be written on the command line.

use std::net::SocketAddr;
use std::path::PathBuf;

use clap::{Parser, Subcommand};

use super::key::Key;

/// Where the records of all phones come home.
#[derive(Debug, Parser)]
#[command(name = "headmark-hub", version, about)]
pub struct Arguments {
    /// The hub's folder.
    #[arg(long, global = true, env = "HEADMARK_HUB_FOLDER", default_value = "headmark-hub")]
    pub folder: PathBuf,
    /// A PostgreSQL database, `postgres://USER@HOST/NAME`, with `?sslmode=verify-full&sslrootcert=FILE` behind it where it
    /// is on another machine; a file in the folder where none is named.
    #[arg(long, global = true, env = "HEADMARK_HUB_DATABASE", hide_env_values = true)]
    pub database: Option<String>,
    /// Where photos are kept: a folder, or `s3://BUCKET/PATH` with HEADMARK_S3_ENDPOINT, HEADMARK_S3_KEY,
    /// HEADMARK_S3_SECRET and, where it matters, HEADMARK_S3_REGION in the environment; `photos` in the hub's folder where
    /// nothing is said.
    #[arg(long, global = true, env = "HEADMARK_HUB_PHOTOS")]
    pub photos: Option<String>,
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Make a new hub: its folder, the organisation key, its own keys.
    Init(Init),
    /// Answer phones and people until told to stop.
    Serve(Serve),
    /// Enrol a phone: show a code, compare six digits, certify it.
    Enrol(Enrol),
    /// Take the register in, from a table or a register's own file; or records, from a bundle that a phone wrote.
    Import(Import),
    /// Write records to a file, or to several where one would be too long.
    Export(Export),
    /// Prove a file: signatures, chains, the numbers of every visit, and who vouches for the keys. Ends with 1 where
    /// something fails, with 3 where nothing does and not all could be checked.
    Verify {
        /// An export or a bundle.
        file: PathBuf,
        /// The organisation that has to vouch for all that is in it, as `status` of its hub names it.
        #[arg(long)]
        organisation: Option<String>,
    },
    /// Copy the hub's data and photos to a new folder.
    Backup {
        /// A folder that is not there yet.
        to: PathBuf,
    },
    /// Make a hub out of a backup, in a new epoch and with a new key.
    Restore(Restore),
    /// The people who sign in, or carry a phone.
    Person {
        /// What to do.
        #[command(subcommand)]
        what: Person,
        /// Who changes it, by name. Where nobody is named, it was changed at this machine.
        #[arg(long, global = true)]
        by: Option<String>,
    },
    /// The keys of the organisation, the hub and its server: the next one, and an end to an old one.
    #[command(subcommand)]
    Key(Key),
    /// List the phones that are enrolled, or say after a restore that they were looked through.
    Phones(ListPhones),
    /// Revoke a phone from a record on.
    Revoke(Revoke),
    /// Let a record count although its log was revoked or is forked.
    Adopt(Adopt),
    /// List what phones propose to the register, side by side.
    Proposals {
        /// Those that are decided too.
        #[arg(long)]
        all: bool,
    },
    /// List what people changed at the hub itself, newest first: tables that came in, who is written down, which phones
    /// were confirmed.
    Changes {
        /// How many at most.
        #[arg(long, default_value_t = 50)]
        most: usize,
    },
    /// List visits, newest first: whether each counts, what working it out again found, and what was decided about it.
    Visits(ListVisits),
    /// Decide about a visit or a proposal.
    Review(Decide),
    /// Say how the hub stands.
    Status,
}

/// A new hub.
#[derive(Debug, clap::Args)]
pub struct Init {
    /// What people call the hub. It stands in its certificate.
    #[arg(long)]
    pub label: String,
    /// The address that phones reach it by, `https://hub.marrowby.example:8443`.
    #[arg(long)]
    pub address: String,
    /// A file whose first line is the passphrase for the organisation key; asked for where it is left out.
    #[arg(long)]
    pub passphrase_file: Option<PathBuf>,
}

/// Answering.
#[derive(Debug, clap::Args)]
pub struct Serve {
    /// Where to listen.
    #[arg(long, default_value = "0.0.0.0:8443")]
    pub listen: SocketAddr,
}

/// A phone.
#[derive(Debug, clap::Args)]
pub struct Enrol {
    /// Who carries the phone, by name; made with `headmark-hub person add`.
    #[arg(long, required_unless_present = "confirm")]
    pub person: Option<String>,
    /// What the phone is to be called. Not a person's name: it could never be erased.
    #[arg(long, default_value = "")]
    pub label: String,
    /// The areas of the register that it gets; all where nothing is said.
    #[arg(long, value_delimiter = ',')]
    pub areas: Vec<String>,
    /// Also write the code as a picture.
    #[arg(long)]
    pub png: Option<PathBuf>,
    /// Also write the code as a drawing.
    #[arg(long)]
    pub svg: Option<PathBuf>,
    /// Show the code and do not wait for the phone.
    #[arg(long)]
    pub no_wait: bool,
    /// Confirm the phone that waits and shows these six digits, without asking.
    #[arg(long)]
    pub confirm: Option<String>,
    /// Who confirms the phone, by name. Where nobody is named, it was confirmed at this machine.
    #[arg(long)]
    pub by: Option<String>,
}

/// The register, or records.
#[derive(Debug, clap::Args)]
pub struct Import {
    /// A table (CSV), a register's own file (JSON), or a bundle of records; which it is, is seen by how it begins.
    pub file: PathBuf,
    /// Read and judge everything, and take nothing.
    #[arg(long)]
    pub dry_run: bool,
    /// The column that says which area a row belongs to.
    #[arg(long)]
    pub area: Option<String>,
    /// Take the good rows although others are bad.
    #[arg(long)]
    pub good_rows: bool,
    /// Take out every instrument that is not in the file.
    #[arg(long, conflicts_with = "good_rows")]
    pub replace: bool,
    /// Of a bundle: also write a bundle to this file, to be carried back to the phone. It holds receipts, certificates,
    /// reviews, and what is new in the register.
    #[arg(long, value_name = "FILE", conflicts_with = "dry_run")]
    pub back: Option<PathBuf>,
    /// Of a register: who takes it in, by name. Where nobody is named, it was taken in at this machine.
    #[arg(long)]
    pub by: Option<String>,
}

/// Records to be written.
#[derive(Debug, clap::Args)]
pub struct Export {
    /// The file: `.headmark` for an export of one log, anything else for a bundle.
    pub file: PathBuf,
    /// Only visits to the instrument of this tag, and the observations that they cite.
    #[arg(long)]
    pub tag: Option<String>,
    /// Only this log, hexadecimal.
    #[arg(long)]
    pub log: Option<String>,
    /// The most that one bundle unpacks to. What is more goes into further files, numbered, each of which proves by itself;
    /// `verify` and `import` take up to 512 MiB.
    #[arg(long, value_name = "MIB", default_value_t = 256, value_parser = clap::value_parser!(u16).range(1..=448))]
    pub most: u16,
}

/// A hub out of a backup.
#[derive(Debug, clap::Args)]
pub struct Restore {
    /// The backup.
    pub from: PathBuf,
    /// The organisation key's file.
    #[arg(long)]
    pub organisation: PathBuf,
    /// A file whose first line is its passphrase; asked for where it is left out.
    #[arg(long)]
    pub passphrase_file: Option<PathBuf>,
    /// The old machine or its keys are in other hands: what the old hub signed behind this backup counts in nothing.
    #[arg(long, requires = "by")]
    pub stolen: bool,
    /// Who says so, by name.
    #[arg(long)]
    pub by: Option<String>,
}

/// People.
#[derive(Debug, Subcommand)]
pub enum Person {
    /// Write somebody down.
    Add {
        /// The name. It stands in the hub only, where it can be erased.
        name: String,
        /// `read`, `supervise` or `administer`.
        #[arg(long, default_value = "read")]
        role: String,
        /// A file whose first line is the password; asked for where it is left out.
        #[arg(long)]
        password_file: Option<PathBuf>,
        /// Somebody who carries a phone and does not sign in here.
        #[arg(long, conflicts_with = "password_file")]
        no_sign_in: bool,
        /// The number that records name them by already, 32 hexadecimal digits; a new one is drawn where it is left out.
        #[arg(long)]
        number: Option<String>,
    },
    /// Give somebody another name. The number stays.
    Rename {
        /// The name as it is.
        name: String,
        /// The name as it is to be.
        to: String,
    },
    /// Give somebody another role.
    Role {
        /// The name.
        name: String,
        /// `read`, `supervise` or `administer`.
        role: String,
    },
    /// Give somebody another password, or none. Their sign-ins end.
    Password {
        /// The name.
        name: String,
        /// A file whose first line is the password; asked for where it is left out.
        #[arg(long)]
        password_file: Option<PathBuf>,
        /// No password: they sign in no more.
        #[arg(long, conflicts_with = "password_file")]
        none: bool,
    },
    /// List everybody.
    List,
    /// Erase somebody's name. Records go on naming the person's number.
    Remove {
        /// The name.
        name: String,
    },
}

/// The phones.
#[derive(Debug, clap::Args)]
pub struct ListPhones {
    /// After a restore: the phones were looked through, and which of them were revoked since the backup are revoked anew.
    #[arg(long, requires = "by")]
    pub looked_through: bool,
    /// Who looked through them, by name.
    #[arg(long, requires = "looked_through")]
    pub by: Option<String>,
}

/// A revocation.
#[derive(Debug, clap::Args)]
pub struct Revoke {
    /// The phone's log, hexadecimal; `headmark-hub phones` lists them.
    pub log: String,
    /// The last place of it that is still trusted, 0 for none; or that record's name, LOG-PLACE-HASH, which also says which
    /// branch of a fork is meant.
    #[arg(long)]
    pub last: String,
    /// Why.
    #[arg(long)]
    pub reason: String,
    /// Who revokes it, by name.
    #[arg(long)]
    pub by: String,
}

/// A list of visits.
#[derive(Debug, clap::Args)]
pub struct ListVisits {
    /// Only those to the instrument of this tag.
    #[arg(long)]
    pub tag: Option<String>,
    /// Only those about which nothing was decided.
    #[arg(long)]
    pub undecided: bool,
    /// Only those that came out otherwise when they were worked out again, whether they count or not.
    #[arg(long)]
    pub differs: bool,
    /// How many at most.
    #[arg(long, default_value_t = 50)]
    pub most: usize,
}

/// A decision.
#[derive(Debug, clap::Args)]
pub struct Decide {
    /// The record's name, as lists have it: `LOG-PLACE-HASH`.
    pub entry: String,
    /// `accepted` or `declined` for a proposal; `approved` or `returned` for a visit.
    pub decision: String,
    /// What is said to it. Whoever made the record reads it on their phone; without it nothing is declined or returned.
    #[arg(long, default_value = "")]
    pub note: String,
    /// Who decides, by name.
    #[arg(long)]
    pub by: String,
}

/// An adoption.
#[derive(Debug, clap::Args)]
pub struct Adopt {
    /// The record's name, as lists have it: `LOG-PLACE-HASH`.
    pub entry: String,
    /// What is said to it.
    #[arg(long, default_value = "")]
    pub note: String,
    /// Who adopts it, by name.
    #[arg(long)]
    pub by: String,
}
