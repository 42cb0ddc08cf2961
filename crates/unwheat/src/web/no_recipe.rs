//! What comes in as a recipe and is none: files that hold no text, and texts without a list.

use recipe::read::ReadError;

/// Why a text cannot be worked with, as a page says it: of a whole text without a list no line is at fault.
pub fn why(e: &ReadError) -> String {
    match e {
        ReadError::NoIngredients { .. } => "No ingredient was found: no line of it begins with an amount. Write each ingredient on a line of its own, the amount first, as in 250 g flour; the method stays below them as it is. Amounts that stand only inside the sentences of a method are not taken out of them.".to_owned(),
        e => e.to_string(),
    }
}

/// What a file is that is no text, with the way its recipe gets here all the same; none for what
/// can be read as text.
///
/// Known by the first bytes that each kind has by its own specification: PDF 32000-1 (`%PDF-`),
/// PKWARE's ZIP (`PK` 3 4, which word processors' documents are), Microsoft's compound file and RTF,
/// PNG, JPEG, GIF, RIFF with WEBP, ISO base media (`ftyp`: HEIC, AVIF), Apple's binary property
/// list (web archives), RFC 2557 (web pages as one MIME file).
pub fn what(bytes: &[u8]) -> Option<&'static str> {
    const COPY: &str = "It is a document: open it, copy the recipe and paste it here.";
    const PICTURE: &str = "It is a picture, and pictures are not read: type the recipe in, or copy its words where your device finds text in pictures, and paste them here.";
    const PAGE: &str = "It is a web page saved as one archive: save it again as 'HTML only' or 'Page source', or copy the recipe from the page and paste it here.";
    let starts = |with: &[u8]| bytes.starts_with(with);
    let at = |place: usize, with: &[u8]| bytes.get(place..).is_some_and(|b| b.starts_with(with));
    if bytes.iter().all(u8::is_ascii_whitespace) {
        return Some("The file is empty: choose another, or paste the recipe here.");
    }
    if starts(b"%PDF-") {
        return Some("It is a PDF: open it, mark the recipe, copy it and paste it here.");
    }
    if starts(b"PK\x03\x04") || starts(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1") || starts(b"{\\rtf") {
        return Some(COPY);
    }
    if starts(b"\x89PNG\r\n\x1a\n")
        || starts(b"\xff\xd8\xff")
        || starts(b"GIF8")
        || starts(b"RIFF") && at(8, b"WEBP")
        || at(4, b"ftyp")
    {
        return Some(PICTURE);
    }
    if starts(b"bplist00") || is_mime_page(bytes) {
        return Some(PAGE);
    }
    (bytes.contains(&0) && !is_utf16(bytes)).then_some(
        "This file is no text: copy the recipe's words out of it and paste them here, or save the web page as HTML.",
    )
}

/// Whether a text begins as UTF-16 does.
pub fn is_utf16(bytes: &[u8]) -> bool {
    starts_any(bytes, &[b"\xff\xfe", b"\xfe\xff"])
}

fn starts_any(bytes: &[u8], with: &[&[u8]]) -> bool {
    with.iter().any(|w| bytes.starts_with(w))
}

/// Whether a file is a web page in one MIME file: its header lines say so.
fn is_mime_page(bytes: &[u8]) -> bool {
    let head = String::from_utf8_lossy(&bytes[..bytes.len().min(2000)]).to_ascii_lowercase();
    let is_header = starts_any(head.as_bytes(), &[b"from:", b"mime-version:", b"subject:"]);
    is_header && head.contains("mime-version:") && head.contains("multipart/related")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_is_not_refused() {
        for text in [
            "Buns\n\n300 g flour\n",
            "From: Ann\n\n300 g flour\n2 eggs",
            "GIF-free cake\n100 g sugar",
            "\u{feff}Crêpes\n\n300 g flour",
            "<!doctype html><html><body>300 g flour</body></html>",
        ] {
            // 'GIF8' begins no recipe; 'GIF-' may.
            assert_eq!(what(text.as_bytes()), None, "{text}");
        }
        assert_eq!(what(b"\xff\xfeC\0a\0k\0e\0"), None);
    }

    #[test]
    fn every_kind_is_told_what_it_is() {
        for (bytes, words) in [
            (&b""[..], "is empty"),
            (b" \r\n ", "is empty"),
            (b"%PDF-1.7\n%\xe2\xe3", "a PDF"),
            (b"PK\x03\x04\x14\0\x06\0", "a document"),
            (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "a document"),
            (b"{\\rtf1\\ansi 300 g flour", "a document"),
            (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "a picture"),
            (b"\xff\xd8\xff\xe0\0\x10JFIF", "a picture"),
            (b"\0\0\0\x18ftypheic", "a picture"),
            (b"RIFF\x24\0\0\0WEBPVP8 ", "a picture"),
            (b"bplist00\xd1\x01", "one archive"),
            (
                b"From: <Saved by a browser>\r\nSubject: Buns\r\nMIME-Version: 1.0\r\nContent-Type: multipart/related;\r\n",
                "one archive",
            ),
            (b"\x7fELF\x02\0\0", "no text"),
        ] {
            let said = what(bytes).unwrap_or_default();
            assert!(said.contains(words), "{bytes:?}: {said}");
        }
    }

    /// Of a text told in sentences no line is the one at fault; of a wrong number the line is named.
    #[test]
    fn a_text_without_a_list_blames_no_line() {
        let said = why(&ReadError::NoIngredients {
            line: 1,
            prose: true,
            lines: 3,
        });
        assert!(
            said.contains("on a line of its own") && !said.contains("line 1"),
            "{said}"
        );
        let number = ReadError::ImpossibleNumber {
            line: 4,
            column: 1,
            text: "0 g".to_owned(),
        };
        assert!(why(&number).starts_with("line 4, column 1"));
    }
}
