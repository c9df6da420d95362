//! The table of routes. What is answered and what is described is this one list: a handler that stands in it is both.

use axum::Router;
use axum::routing::MethodRouter;
use utoipa::OpenApi;

use super::{
    App, changes, decisions, enrolling, exchanging, findings, forks, operating, people, phones, photos,
    proposing, records, rows, signing_in, trusting,
};

/// Makes a function of each group that returns its routes, and the description of all. A function could not do it: the
/// description is derived from the handlers' names.
macro_rules! routes {
    ($($(#[$about:meta])* $group:ident {
        $($path:literal { $($method:ident $module:ident::$handler:ident,)+ })+
    })+) => {
        $(
            $(#[$about])*
            pub(super) fn $group() -> Router<App> {
                Router::new()$(.route($path, MethodRouter::new()$(.$method($module::$handler))+))+
            }
        )+

        /// All of them.
        #[derive(OpenApi)]
        #[openapi(
            info(
                title = "Headmark hub",
                description = "Where the records of all phones come home. Messages of the exchange are described in PROTOCOL.md of the crate exchange.",
            ),
            paths($($($($module::$handler,)+)+)+)
        )]
        pub(super) struct Described;
    };
}

routes! {
    /// The first question of an exchange.
    hello {
        "/exchange/hello" { post exchanging::post_hello, }
    }
    /// What a phone brings.
    push {
        "/exchange/push" { post exchanging::post_push, }
    }
    /// Photos, piece by piece.
    photo {
        "/photos/{photo}" { get photos::get_photo, head photos::head_photo, put photos::put_photo, }
    }
    /// What phones and those who watch a hub ask for beside.
    phones {
        "/trust" { get trusting::get_trust, }
        "/enrol" { post enrolling::post_enrol, }
        "/enrol/{id}" { get enrolling::get_enrol, }
        "/health" { get operating::get_health, }
        "/metrics" { get operating::get_metrics, }
    }
    /// What people look at and decide.
    people {
        "/sign-in" { post signing_in::post_sign_in, }
        "/sign-out" { post signing_in::post_sign_out, }
        "/me" { get signing_in::get_me, }
        "/people" { get people::get_people, post people::post_people, }
        "/people/{number}" { patch people::patch_person, delete people::delete_person, }
        "/changes" { get changes::get_changes, }
        "/phones" { get phones::get_phones, }
        "/phones/looked-through" { post phones::post_looked_through, }
        "/enrolments" { post enrolling::post_enrolments, get enrolling::get_enrolments, }
        "/enrolments/{id}" { delete enrolling::delete_enrolment, }
        "/enrolments/{id}/confirm" { post enrolling::post_confirm, }
        "/records" { get records::get_records, }
        "/records/{id}" { get records::get_record, }
        "/findings" { get findings::get_findings, }
        "/forks" { get forks::get_forks, }
        "/parked" { get forks::get_parked, }
        "/proposals" { get proposing::get_proposals, }
        "/reviews" { post decisions::post_reviews, }
        "/revocations" { post decisions::post_revocations, }
        "/register/rows" { get rows::get_rows, }
        "/register/rows/{tag}" { get rows::get_row, }
        "/register/areas" { get rows::get_areas, }
    }
}
