//! Secrets that open a door: session cookies and links. The text goes to the visitor, only its
//! hash is stored.
//!
//! A plain SHA-256 is enough for secrets of 112 random bits and more (OWASP ASVS 5.0.0, 6.5.2);
//! ours have 160 and 256.

use data_encoding::{BASE32_NOPAD, BASE64URL_NOPAD, HEXLOWER};
use hmac::{Hmac, KeyInit, Mac};
use sha2::{Digest, Sha256};

/// SHA-256 of a token's text, as stored.
pub type TokenHash = [u8; 32];

/// The machine gave no random bytes.
#[derive(Debug, thiserror::Error)]
#[error("this machine gives no random bytes")]
pub struct NoRandomness;

/// A fresh secret; never stored. It has no `Debug`, so that no log can hold it.
pub struct Token(String);

impl Token {
    /// 256 random bits for a session cookie.
    ///
    /// # Errors
    /// When the machine gives no random bytes.
    pub fn for_session() -> Result<Self, NoRandomness> {
        Ok(Self(BASE64URL_NOPAD.encode(&random::<32>()?)))
    }

    /// 160 random bits for a link that is shown once: 32 characters that survive being read out
    /// or typed.
    ///
    /// # Errors
    /// When the machine gives no random bytes.
    pub fn for_link() -> Result<Self, NoRandomness> {
        Ok(Self::of_bytes(&random()?))
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

    fn of_bytes(bytes: &[u8; 20]) -> Self {
        Self(BASE32_NOPAD.encode(bytes).to_ascii_lowercase())
    }
}

/// What a link's token follows from, with the key: 128 random bits, as stored.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LinkSeed(String);

impl LinkSeed {
    /// A seed for a new link.
    ///
    /// # Errors
    /// When the machine gives no random bytes.
    pub fn fresh() -> Result<Self, NoRandomness> {
        Ok(Self(HEXLOWER.encode(&random::<16>()?)))
    }

    /// A seed as it was stored.
    #[must_use]
    pub const fn stored(text: String) -> Self {
        Self(text)
    }

    /// What is stored.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.0
    }
}

/// The key of all links that can be printed again. It stands beside the database, so that a copy
/// of the database opens nothing; without it links still work but cannot be shown again.
pub struct LinkKey([u8; 32]);

impl LinkKey {
    /// A new key.
    ///
    /// # Errors
    /// When the machine gives no random bytes.
    pub fn fresh() -> Result<Self, NoRandomness> {
        Ok(Self(random()?))
    }

    /// A key as it was kept; `None` for anything that is no key.
    #[must_use]
    pub fn kept(bytes: &[u8]) -> Option<Self> {
        bytes.try_into().ok().map(Self)
    }

    /// What is kept of it: all.
    #[must_use]
    pub const fn bytes(&self) -> &[u8; 32] {
        &self.0
    }

    /// The token of the link with this seed.
    #[must_use]
    pub fn token(&self, seed: &LinkSeed) -> Token {
        Token::of_bytes(&derived(&self.0, seed.text().as_bytes()))
    }
}

/// Secrets stay out of every log.
impl std::fmt::Debug for LinkKey {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("LinkKey")
    }
}

/// The first 160 bits of HMAC-SHA-256: RFC 2104, section 5, allows half of the output and more.
fn derived(key: &[u8; 32], text: &[u8]) -> [u8; 20] {
    // A short key is filled up with zeros to one block of the hash (RFC 2104, section 2).
    let mut block = [0; 64];
    block[..key.len()].copy_from_slice(key);
    let mut mac = Hmac::<Sha256>::new(&block.into());
    mac.update(text);
    let whole: [u8; 32] = mac.finalize().into_bytes().into();
    std::array::from_fn(|at| whole[at])
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

    #[test]
    fn a_link_follows_from_its_seed_and_the_key_alone() {
        let (key, other) = (LinkKey::fresh().unwrap(), LinkKey::fresh().unwrap());
        let (seed, later) = (LinkSeed::fresh().unwrap(), LinkSeed::fresh().unwrap());
        let again = LinkKey::kept(key.bytes()).unwrap();
        let stored = LinkSeed::stored(seed.text().to_owned());
        assert_eq!(key.token(&seed).text(), again.token(&stored).text());
        assert_ne!(key.token(&seed).text(), key.token(&later).text());
        assert_ne!(key.token(&seed).text(), other.token(&seed).text());
        assert_eq!(key.token(&seed).text().len(), 32);
        assert!(LinkKey::kept(&[7; 31]).is_none());
    }

    /// Expected value: RFC 4231, section 4.2, the key filled up with zeros (RFC 2104, section 2:
    /// a short key is padded with zeros, so both give the same).
    #[test]
    fn the_derivation_is_hmac_sha_256() {
        let mut key = [0; 32];
        key[..20].fill(0x0b);
        let text = HEXLOWER.encode(&derived(&key, b"Hi There"));
        assert_eq!(text, "b0344c61d8db38535ca8afceaf0bf12b881dc200");
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
