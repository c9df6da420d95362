//! Tokens, enrolments, counters.

use record::LogId;

use super::Memory;
use super::state::State;
use crate::{Access, Enrolment, Error, Moment, Purpose, Token};

impl Access for Memory {
    async fn put_token(&self, token: &Token) -> Result<(), Error> {
        self.writing()?.tokens.insert((token.purpose, token.hash), token.clone());
        Ok(())
    }

    async fn take_token(
        &self,
        purpose: Purpose,
        hash: [u8; 32],
        now: Moment,
    ) -> Result<Option<Token>, Error> {
        Ok(self.writing()?.take(purpose, hash, now))
    }

    async fn look_token(
        &self,
        purpose: Purpose,
        hash: [u8; 32],
        now: Moment,
    ) -> Result<Option<Token>, Error> {
        Ok(self.state().tokens.get(&(purpose, hash)).filter(|token| now < token.expires).cloned())
    }

    async fn enrol_with(
        &self,
        code: [u8; 32],
        now: Moment,
        enrolment: &Enrolment,
    ) -> Result<Option<Enrolment>, Error> {
        let mut state = self.writing()?;
        let Some(token) = state.take(Purpose::Code, code, now) else { return Ok(None) };
        let waits = Enrolment { content: token.content, ..enrolment.clone() };
        state.enrolments.insert(waits.log, waits.clone());
        Ok(Some(waits))
    }

    async fn enrolments(&self) -> Result<Vec<Enrolment>, Error> {
        let mut all: Vec<Enrolment> = self.state().enrolments.values().cloned().collect();
        all.sort_by_key(|waits| (waits.asked, waits.log));
        Ok(all)
    }

    async fn drop_enrolment(&self, log: LogId) -> Result<bool, Error> {
        Ok(self.writing()?.enrolments.remove(&log).is_some())
    }

    async fn strike(&self, bucket: &str, window: i64) -> Result<u64, Error> {
        let mut state = self.writing()?;
        let (begun, count) = state.strikes.entry(bucket.to_owned()).or_insert((window, 0));
        if *begun != window {
            (*begun, *count) = (window, 0);
        }
        *count += 1;
        Ok(*count)
    }

    async fn sweep(&self, now: Moment, window: i64) -> Result<u64, Error> {
        let mut state = self.writing()?;
        let before = state.tokens.len() + state.strikes.len();
        state.tokens.retain(|_, token| now < token.expires);
        state.strikes.retain(|_, (begun, _)| *begun >= window);
        Ok((before - state.tokens.len() - state.strikes.len()) as u64)
    }
}

impl State {
    /// Takes a token out; one that has expired goes too, and is none.
    fn take(&mut self, purpose: Purpose, hash: [u8; 32], now: Moment) -> Option<Token> {
        self.tokens.remove(&(purpose, hash)).filter(|token| now < token.expires)
    }
}
