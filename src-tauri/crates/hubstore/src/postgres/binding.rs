//! What ties a password's proof to the connection that it is given over: the hash of the server's certificate.
//!
//! RFC 5929, section 4.1 (`tls-server-end-point`): the hash is that of the certificate's own signature, and SHA-256 where
//! that is MD5 or SHA-1. Somebody between who shows a certificate of their own cannot pass such a proof on, so that a
//! password by SCRAM finds them out even where no authority is asked.

use sha2::{Digest, Sha256, Sha384, Sha512};

/// The signatures by their object identifiers, as DER: RSA by PKCS #1 (RFC 8017, appendix A.2.4: MD5, SHA-1, SHA-2) and
/// ECDSA (RFC 5758, section 3.2, and SHA-1 by RFC 3279, section 2.2.3).
const RSA: &[u8] = &[0x2a, 0x86, 0x48, 0x86, 0xf7, 0x0d, 0x01, 0x01];
const ECDSA: &[u8] = &[0x2a, 0x86, 0x48, 0xce, 0x3d, 0x04];

const SEQUENCE: u8 = 0x30;
const OBJECT_IDENTIFIER: u8 = 0x06;

/// Returns the hash of a certificate in DER; none where its signature names no hash, as Ed25519's does.
pub(super) fn end_point(certificate: &[u8]) -> Option<Vec<u8>> {
    let signed_with = signature(certificate)?;
    let by = |name: &[u8]| signed_with.strip_prefix(name);
    match (by(RSA), by(ECDSA)) {
        (Some([0x04 | 0x05 | 0x0b]), _) | (_, Some([0x01] | [0x03, 0x02])) => {
            Some(Sha256::digest(certificate).to_vec())
        }
        (Some([0x0c]), _) | (_, Some([0x03, 0x03])) => Some(Sha384::digest(certificate).to_vec()),
        (Some([0x0d]), _) | (_, Some([0x03, 0x04])) => Some(Sha512::digest(certificate).to_vec()),
        _ => None,
    }
}

/// The object identifier of a certificate's signature: the certificate holds what is signed, then how, then the signature
/// (RFC 5280, section 4.1).
fn signature(certificate: &[u8]) -> Option<&[u8]> {
    let (whole, _) = element(certificate, SEQUENCE)?;
    let (_, behind) = element(whole, SEQUENCE)?;
    let (how, _) = element(behind, SEQUENCE)?;
    element(how, OBJECT_IDENTIFIER).map(|(name, _)| name)
}

/// Returns the content of the first element, if it is of this kind, and what stands behind it.
fn element(bytes: &[u8], kind: u8) -> Option<(&[u8], &[u8])> {
    let [first, length, rest @ ..] = bytes else { return None };
    if *first != kind {
        return None;
    }
    match *length {
        short @ ..0x80 => rest.split_at_checked(short.into()),
        long => {
            let (digits, rest) = rest.split_at_checked(usize::from(long & 0x7f))?;
            let length = digits.iter().try_fold(0_usize, |length, digit| {
                length.checked_mul(256)?.checked_add(usize::from(*digit))
            })?;
            rest.split_at_checked(length)
        }
    }
}

#[cfg(test)]
mod tests {
    use rcgen::{
        CertificateParams, KeyPair, PKCS_ECDSA_P256_SHA256, PKCS_ECDSA_P384_SHA384, PKCS_ED25519,
        SignatureAlgorithm,
    };
    use rstest::rstest;

    use super::*;

    fn certificate(by: &'static SignatureAlgorithm) -> Vec<u8> {
        let key = KeyPair::generate_for(by).unwrap();
        let params = CertificateParams::new(vec!["db.example".to_owned()]).unwrap();
        params.self_signed(&key).unwrap().der().to_vec()
    }

    #[rstest]
    #[case::p256(&PKCS_ECDSA_P256_SHA256, Some(32))]
    #[case::p384(&PKCS_ECDSA_P384_SHA384, Some(48))]
    #[case::without_a_hash(&PKCS_ED25519, None)]
    fn the_hash_is_the_signatures_own(
        #[case] by: &'static SignatureAlgorithm,
        #[case] length: Option<usize>,
    ) {
        assert_eq!(end_point(&certificate(by)).map(|hash| hash.len()), length);
    }

    /// The identifiers in their own words, from the sections named above.
    #[rstest]
    #[case::sha1_with_rsa(&[1, 2, 840, 113_549, 1, 1, 5], Some(32))]
    #[case::sha256_with_rsa(&[1, 2, 840, 113_549, 1, 1, 11], Some(32))]
    #[case::sha384_with_rsa(&[1, 2, 840, 113_549, 1, 1, 12], Some(48))]
    #[case::sha512_with_rsa(&[1, 2, 840, 113_549, 1, 1, 13], Some(64))]
    #[case::pss(&[1, 2, 840, 113_549, 1, 1, 10], None)]
    #[case::ecdsa_with_sha1(&[1, 2, 840, 10_045, 4, 1], Some(32))]
    #[case::ecdsa_with_sha512(&[1, 2, 840, 10_045, 4, 3, 4], Some(64))]
    fn each_signature_has_its_hash(#[case] name: &[u32], #[case] length: Option<usize>) {
        let name = encoded(name);
        let how = wrapped(SEQUENCE, &wrapped(OBJECT_IDENTIFIER, &name));
        // What is signed is long enough that its length takes two bytes more.
        let signed = wrapped(SEQUENCE, &[7; 700]);
        let whole = wrapped(SEQUENCE, &[signed, how, vec![3, 1, 0]].concat());
        assert_eq!(end_point(&whole).map(|hash| hash.len()), length);
    }

    /// An object identifier: the first two numbers in one byte, each other seven bits a byte (X.690, section 8.19).
    fn encoded(name: &[u32]) -> Vec<u8> {
        let mut bytes = vec![u8::try_from(name[0] * 40 + name[1]).unwrap()];
        for number in &name[2..] {
            let digits =
                (0..5).rev().map(|place| (number >> (7 * place)) & 0x7f).skip_while(|digit| *digit == 0);
            let digits: Vec<u8> = digits.map(|digit| u8::try_from(digit).unwrap()).collect();
            let last = digits.len() - 1;
            bytes.extend(
                digits.iter().enumerate().map(|(at, digit)| digit | if at < last { 0x80 } else { 0 }),
            );
        }
        bytes
    }

    fn wrapped(kind: u8, content: &[u8]) -> Vec<u8> {
        let length = content.len();
        let length = match u8::try_from(length) {
            Ok(short @ ..0x80) => vec![short],
            _ => [&[0x82][..], &u16::try_from(length).unwrap().to_be_bytes()].concat(),
        };
        [&[kind][..], &length, content].concat()
    }

    #[test]
    fn what_is_cut_short_has_none_and_breaks_nothing() {
        let whole = certificate(&PKCS_ECDSA_P256_SHA256);
        for length in 0..whole.len() {
            assert_eq!(end_point(&whole[..length]), None, "{length}");
        }
        assert_eq!(end_point(&[SEQUENCE, 0xff]), None);
        assert_eq!(end_point(&[SEQUENCE, 0x88, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff]), None);
    }
}
