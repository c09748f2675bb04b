//! Keys in minisign's own forms: the public one, and the secret one, with or without a passphrase.

use std::fmt;

use ct_codecs::{Base64, Decoder};
use minisign::{KeyPair, SecretKeyBox};

/// Where the number of a key stands in its bytes, and what is before it.
const PUBLIC_LENGTH: usize = 42;
const SECRET_LENGTH: usize = 158;
const SECRET_NUMBER: usize = 54;
const SECRET_CHECKSUM: usize = 126;
const ALGORITHM: &[u8] = b"Ed";

/// What is wrong with a key's text.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum KeyTrouble {
    /// No public key of minisign.
    #[error("this is no public key as minisign writes it")]
    NotPublic,
    /// No secret key of minisign, or a damaged one.
    #[error("this is no secret key as minisign writes it, or it is damaged")]
    NotSecret,
    /// The passphrase does not open it.
    #[error("the passphrase does not fit the key")]
    WrongPassphrase,
    /// The system gave no random numbers, or no memory to work with.
    #[error("the system has not what it takes to make or open a key")]
    System,
}

/// A public key.
#[derive(Clone)]
pub struct PublicKey {
    key: minisign::PublicKey,
    text: String,
}

impl PublicKey {
    /// From the one line that `seal.toml` and `minisign -P` have.
    ///
    /// # Errors
    /// Where it is no such line.
    pub fn from_line(line: &str) -> Result<Self, KeyTrouble> {
        let bytes = Base64::decode_to_vec(line, None).map_err(|_| KeyTrouble::NotPublic)?;
        let is_key = bytes.len() == PUBLIC_LENGTH && bytes.starts_with(ALGORITHM);
        let key = minisign::PublicKey::from_bytes(&bytes).ok().filter(|_| is_key).ok_or(KeyTrouble::NotPublic)?;
        Ok(Self { text: key.to_base64(), key })
    }

    /// From a file of minisign: a comment, and the key under it. The key alone does as well.
    ///
    /// # Errors
    /// Where it is no such file.
    pub fn from_file(text: &str) -> Result<Self, KeyTrouble> {
        let lines: Vec<&str> = text.lines().map(str::trim).filter(|line| !line.is_empty()).collect();
        match lines[..] {
            [comment, line] if comment.starts_with("untrusted comment:") => Self::from_line(line),
            [line] => Self::from_line(line),
            _ => Err(KeyTrouble::NotPublic),
        }
    }

    /// The one line that stands for it everywhere.
    pub fn line(&self) -> &str {
        &self.text
    }

    /// The file of it, as minisign writes it.
    pub fn file(&self) -> String {
        format!("untrusted comment: minisign public key {}\n{}\n", self.number(), self.text)
    }

    /// Its number, as minisign shows it. It is short and can be forged: what tells keys apart is [`PublicKey::line`].
    pub fn number(&self) -> String {
        number(self.key.keynum())
    }

    /// The key for those who verify with it.
    pub(super) fn inner(&self) -> &minisign::PublicKey {
        &self.key
    }
}

fn number(bytes: &[u8]) -> String {
    bytes.iter().rev().map(|byte| format!("{byte:02X}")).collect()
}

impl PartialEq for PublicKey {
    fn eq(&self, other: &Self) -> bool {
        self.text == other.text
    }
}

impl Eq for PublicKey {}

impl fmt::Debug for PublicKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "PublicKey({})", self.text)
    }
}

/// A secret key that is open: it can sign.
pub struct SecretKey {
    public: PublicKey,
    number: [u8; 8],
    key: ed25519_compact::SecretKey,
}

/// A new pair, as the texts of two files.
pub struct NewPair {
    /// The public key.
    pub public: PublicKey,
    /// The file of the secret key.
    pub secret_file: String,
}

/// Makes a new pair; with a passphrase the secret key cannot be used without it.
///
/// # Errors
/// Where the system gives no random numbers or no memory.
pub fn new_pair(passphrase: Option<&str>) -> Result<NewPair, KeyTrouble> {
    let pair = match passphrase {
        Some(words) => KeyPair::generate_encrypted_keypair(Some(words.to_owned())),
        None => KeyPair::generate_unencrypted_keypair(),
    };
    let KeyPair { pk, sk } = pair.map_err(|_| KeyTrouble::System)?;
    let public = PublicKey { text: pk.to_base64(), key: pk };
    let comment = match passphrase {
        Some(_) => "minisign encrypted secret key",
        None => "minisign secret key without a passphrase",
    };
    let secret_file = sk.to_box(Some(comment)).map_err(|_| KeyTrouble::System)?.into_string();
    Ok(NewPair { public, secret_file })
}

/// A secret key without a passphrase. The tool `minisign` writes no checksum into such a key, others do.
fn unlocked(file: SecretKeyBox) -> Option<minisign::SecretKey> {
    let text = file.to_string();
    let bytes = text.lines().nth(1).and_then(|line| Base64::decode_to_vec(line.trim(), None).ok())?;
    match bytes.get(SECRET_CHECKSUM..)?.iter().all(|byte| *byte == 0) {
        true => minisign::SecretKey::from_bytes(&bytes).ok(),
        false => file.into_unencrypted_secret_key().ok(),
    }
}

/// Whether the secret key of this file wants a passphrase.
///
/// # Errors
/// Where it is no file of a secret key.
pub fn wants_passphrase(file: &str) -> Result<bool, KeyTrouble> {
    let bytes = file.lines().nth(1).and_then(|line| Base64::decode_to_vec(line.trim(), None).ok());
    match bytes {
        Some(bytes) if bytes.len() == SECRET_LENGTH && bytes.starts_with(ALGORITHM) => Ok(bytes[2..4] != [0, 0]),
        _ => Err(KeyTrouble::NotSecret),
    }
}

impl SecretKey {
    /// Opens the secret key of a file of minisign.
    ///
    /// # Errors
    /// Where it is no such file, or the passphrase does not fit, or is wanted and not given.
    pub fn open(file: &str, passphrase: Option<&str>) -> Result<Self, KeyTrouble> {
        let is_closed = wants_passphrase(file)?;
        // The carriage returns of a file that went through Windows.
        let file = SecretKeyBox::from(file.replace('\r', ""));
        let opened = match (is_closed, passphrase) {
            (false, _) => unlocked(file).ok_or(KeyTrouble::NotSecret)?,
            (true, Some(words)) => {
                file.into_secret_key(Some(words.to_owned())).map_err(|error| match *error.kind() {
                    minisign::ErrorKind::Verify => KeyTrouble::WrongPassphrase,
                    minisign::ErrorKind::KDF => KeyTrouble::System,
                    _ => KeyTrouble::NotSecret,
                })?
            }
            (true, None) => return Err(KeyTrouble::WrongPassphrase),
        };
        let public = minisign::PublicKey::from_secret_key(&opened).map_err(|_| KeyTrouble::NotSecret)?;
        let bytes = opened.to_bytes();
        let number = bytes.get(SECRET_NUMBER..SECRET_NUMBER + 8).and_then(|number| number.try_into().ok());
        let key = bytes.get(SECRET_NUMBER + 8..SECRET_NUMBER + 72);
        let key = key.and_then(|key| ed25519_compact::SecretKey::from_slice(key).ok());
        let (Some(number), Some(key)) = (number, key) else { return Err(KeyTrouble::NotSecret) };
        // Half of a secret key is the public one: another there would give the secret away in what it signs.
        if key.validate_public_key(&key.public_key()).is_err() {
            return Err(KeyTrouble::NotSecret);
        }
        Ok(Self { public: PublicKey { text: public.to_base64(), key: public }, number, key })
    }

    /// The public key that belongs to it.
    pub fn public(&self) -> &PublicKey {
        &self.public
    }

    /// The number as it stands in signatures.
    pub(super) fn number(&self) -> &[u8; 8] {
        &self.number
    }

    /// The plain signature of these bytes; the same bytes have the same signature each time.
    pub(super) fn sign(&self, bytes: &[u8]) -> [u8; 64] {
        *self.key.sign(bytes, None)
    }
}
