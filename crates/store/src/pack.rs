//! Long texts in little room: raw deflate, with a text that is much alike as its dictionary.

use crate::StoreError;
use flate2::{Compress, Compression, Decompress, FlushCompress, FlushDecompress, Status};

/// The longest text that is unpacked.
const LONGEST: usize = 64 << 20;
/// As far back as deflate looks.
const WINDOW: usize = 32 << 10;

fn damaged() -> StoreError {
    StoreError::Damaged("a packed text cannot be unpacked".to_owned())
}

/// The end of a base that deflate can look at.
fn dictionary(base: &str) -> &[u8] {
    let bytes = base.as_bytes();
    &bytes[bytes.len().saturating_sub(WINDOW)..]
}

/// The text's length in four bytes, little end first, and the text packed.
pub(crate) fn pack(text: &str, base: &str) -> Result<Vec<u8>, StoreError> {
    let bad = || StoreError::Bad("This text cannot be packed.".to_owned());
    let length = u32::try_from(text.len()).map_err(|_| bad())?;
    if text.len() > LONGEST {
        return Err(StoreError::Bad("This text is too long.".to_owned()));
    }
    let mut out = Vec::with_capacity(text.len() + text.len() / 8 + 128);
    out.extend_from_slice(&length.to_le_bytes());
    let mut packer = Compress::new(Compression::default(), false);
    if !base.is_empty() {
        packer.set_dictionary(dictionary(base)).map_err(|_| bad())?;
    }
    match packer.compress_vec(text.as_bytes(), &mut out, FlushCompress::Finish) {
        Ok(Status::StreamEnd) => Ok(out),
        _ => Err(bad()),
    }
}

/// The text again.
pub(crate) fn unpack(bytes: &[u8], base: &str) -> Result<String, StoreError> {
    let (length, bytes) = bytes.split_first_chunk::<4>().ok_or_else(damaged)?;
    let length = usize::try_from(u32::from_le_bytes(*length)).map_err(|_| damaged())?;
    if length > LONGEST {
        return Err(damaged());
    }
    let mut out = Vec::with_capacity(length + 64);
    let mut unpacker = Decompress::new(false);
    if !base.is_empty() {
        unpacker
            .set_dictionary(dictionary(base))
            .map_err(|_| damaged())?;
    }
    match unpacker.decompress_vec(bytes, &mut out, FlushDecompress::Finish) {
        Ok(Status::StreamEnd) if out.len() == length => {
            String::from_utf8(out).map_err(|_| damaged())
        }
        _ => Err(damaged()),
    }
}

#[cfg(test)]
mod tests {
    use super::{pack, unpack};
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn what_is_packed_comes_back(
            text in "[a-f ]{0,4000}|.{0,300}", base in "[a-f ]{0,4000}|.{0,300}"
        ) {
            for base in ["", &base, &text] {
                let packed = pack(&text, base).expect("packed");
                prop_assert_eq!(unpack(&packed, base), Ok(text.clone()));
                prop_assert!(unpack(&packed[..packed.len() - 1], base).is_err());
            }
        }
    }

    #[test]
    fn long_texts_with_long_bases() {
        let base: String = (0..20_000).map(|n| format!("{n} grams, ")).collect();
        let text = base.replace("777 grams", "778 grams");
        let packed = pack(&text, &base).expect("packed");
        assert_eq!(unpack(&packed, &base), Ok(text));
        assert!(unpack(b"", "").is_err());
        assert!(unpack(&[0xff; 40], "").is_err());
    }
}
