//! The contract, by subject. Each case gets a fresh store.

pub(crate) mod access;
pub(crate) mod dump;
pub(crate) mod follows;
pub(crate) mod jobs;
pub(crate) mod ledger;
pub(crate) mod meta;
pub(crate) mod news;
pub(crate) mod parking;
pub(crate) mod people;
pub(crate) mod photos;
pub(crate) mod register;
pub(crate) mod visits;

/// Runs every case on the store that `$open` opens.
macro_rules! contract {
    ($name:ident, $open:ident) => {
        mod $name {
            use super::$open as open;
            use crate::cases::each;

            each! {
                access: a_token_is_taken_once, a_token_of_one_purpose_is_none_for_another, an_expired_token_is_none;
                access: a_sign_in_is_looked_at_and_renewed, a_code_enrols_one_phone, strikes_count_by_window;
                dump: a_dump_goes_into_an_empty_store_whole, nothing_is_restored_over_something;
                dump: a_dump_that_nobody_listens_to_ends;
                jobs: a_visit_is_claimed_by_one_until_its_lease_ends, findings_are_kept_and_counted;
                jobs: those_of_one_finding_are_queued_again;
                ledger: what_comes_twice_is_in_once, entries_keep_their_bytes, forks_are_kept_and_listed;
                ledger: a_branch_is_walked_past_a_fork, a_gap_is_told_by_runs_and_closes;
                ledger: how_entries_hang_together_is_told_without_their_bytes;
                ledger: two_who_append_do_not_fork, since_goes_by_kind_and_log_and_limit;
                ledger: all_is_read_a_page_at_a_time;
                ledger: the_latest_come_newest_first_by_kind_and_log_and_limit;
                follows: what_follows_stands_with_its_entry_or_neither_does, a_log_nobody_knows_keeps_the_entry_out;
                follows: an_import_comes_to_what_its_entry_says_or_nothing_is_done;
                follows: people_change_with_their_entry_or_not_at_all, a_setting_changes_with_its_entry_or_not_at_all;
                ledger: a_batch_of_nothing_is_nothing, an_unknown_log_cannot_be_appended_to;
                meta: an_epoch_ends_what_was_open, settings_are_set_and_removed, a_setting_is_read_with_the_number_of_its_changes;
                news: of_others_only_what_concerns, the_newest_receipt_of_each_grade_counts, news_come_in_pages;
                news: a_receipt_of_photos_alone_stands_beside_the_newest;
                news: who_confirmed_a_phone_is_for_everyone_and_no_other_change_is;
                parking: strangers_wait_until_somebody_vouches, a_log_and_a_carrier_have_limits;
                parking: a_revoked_log_is_kept_and_marked, all_carriers_together_have_a_limit;
                people: each_change_to_people_takes_a_number, people_have_names_of_their_own, phones_keep_their_areas;
                photos: a_cited_photo_is_missing_until_whole, photos_of_a_log_come_newest_first;
                photos: a_photo_of_several_lengths_has_the_one_that_came;
                register: only_what_changes_takes_a_number, a_move_is_a_removal_and_a_whole_row;
                register: the_whole_register_removes_the_rest, changes_come_in_pages;
                visits: the_newest_come_first_in_pages, visits_are_found_by_tag_and_site;
                visits: a_text_that_a_database_would_refuse_keeps_nothing_out;
            }

            #[test]
            fn any_batches_come_to_what_the_plain_model_says() {
                crate::random::ingest_agrees_with_the_model(open);
            }
        }
    };
}

macro_rules! each {
    ($($subject:ident: $($case:ident),+;)+) => {
        $($(
            #[tokio::test(flavor = "multi_thread", worker_threads = 2)]
            async fn $case() {
                let home = open().await;
                crate::cases::$subject::$case(&home.store).await;
            }
        )+)+
    };
}

pub(crate) use {contract, each};
