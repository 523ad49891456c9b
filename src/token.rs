//! Secrets that open a door: session cookies and links. The text goes to the visitor, only its
//! hash is stored.
//!
//! A plain SHA-256 is enough for secrets of 112 random bits and more (OWASP ASVS 5.0.0, 6.5.2);
//! ours have 160 and 256.

use data_encoding::{BASE32_NOPAD, BASE64URL_NOPAD};
use sha2::{Digest, Sha256};

/// SHA-256 of a token's text, as stored.
pub type TokenHash = [u8; 32];

/// The machine gave no random bytes.
#[derive(Debug, thiserror::Error)]
#[error("this machine gives no random bytes")]
pub struct NoRandomness;

/// A fresh secret; shown once, never stored. It has no `Debug`, so that no log can hold it.
pub struct Token(String);

impl Token {
    /// 256 random bits for a session cookie.
    ///
    /// # Errors
    /// When the machine gives no random bytes.
    pub fn for_session() -> Result<Self, NoRandomness> {
        Ok(Self(BASE64URL_NOPAD.encode(&random::<32>()?)))
    }

    /// 160 random bits for a link: 32 characters that survive being read out or typed.
    ///
    /// # Errors
    /// When the machine gives no random bytes.
    pub fn for_link() -> Result<Self, NoRandomness> {
        Ok(Self(
            BASE32_NOPAD.encode(&random::<20>()?).to_ascii_lowercase(),
        ))
    }

    /// The text that opens the door.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.0
    }

    /// What the store keeps of it.
    #[must_use]
    pub fn hash(&self) -> TokenHash {
        hash_of(&self.0)
    }
}

/// The hash under which a token that a visitor shows would be stored. Looking a hash up by
/// index leaks nothing of use: the visitor cannot choose the hash of a secret.
#[must_use]
pub fn hash_of(text: &str) -> TokenHash {
    Sha256::digest(text.as_bytes()).into()
}

fn random<const N: usize>() -> Result<[u8; N], NoRandomness> {
    let mut bytes = [0; N];
    getrandom::fill(&mut bytes).map_err(|_| NoRandomness)?;
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tokens_are_long_and_never_the_same() {
        let (one, other) = (Token::for_link().unwrap(), Token::for_link().unwrap());
        assert_eq!(one.text().len(), 32, "160 bits in base32");
        assert_ne!(one.text(), other.text());
        assert_eq!(Token::for_session().unwrap().text().len(), 43);
    }

    /// Expected value: FIPS 180-2 appendix B.1, the digest of "abc".
    #[test]
    fn the_stored_hash_is_sha_256() {
        assert_eq!(
            data_encoding::HEXLOWER.encode(&hash_of("abc")),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
    }
}
