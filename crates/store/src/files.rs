//! The files of an archive, packed or loose, with limits on their size.

use crate::StoreError;
use crate::archive::{FORMAT, FORMAT_VERSION, KitchenFile};
use serde::de::DeserializeOwned;
use std::collections::BTreeMap;
use std::io::{Cursor, Read};
use zip::ZipArchive;

/// The largest file, unpacked.
const FILE: u64 = 64 << 20;
/// The largest archive, unpacked.
const TOTAL: u64 = 2 << 30;
/// The most files.
const FILES: usize = 100_000;

pub(crate) fn bad(file: &str, why: impl Into<String>) -> StoreError {
    StoreError::Archive {
        file: file.to_owned(),
        why: why.into(),
    }
}

/// Where the files are.
enum From<'a, B> {
    Zip(ZipArchive<Cursor<&'a [u8]>>),
    Loose(BTreeMap<String, B>),
}

/// The files of an archive.
pub(crate) struct Files<'a, B> {
    from: From<'a, B>,
    /// The folder within the archive that holds `kitchen.json`; empty or with a slash at the end.
    folder: String,
    names: Vec<String>,
}

impl<'a> Files<'a, Vec<u8>> {
    /// The files of a zip.
    pub(crate) fn zip(bytes: &'a [u8]) -> Result<Self, StoreError> {
        let zip = ZipArchive::new(Cursor::new(bytes)).map_err(|e| {
            bad(
                "The archive",
                format!("expected a zip file of a kitchen; it cannot be read as one ({e})"),
            )
        })?;
        let mut names = Vec::new();
        for name in zip.file_names() {
            let name = name
                .map_err(|e| bad("The archive", format!("a file's name cannot be read ({e})")))?;
            names.push(name.into_owned());
        }
        Self::new(From::Zip(zip), names)
    }
}

impl<B: AsRef<[u8]>> Files<'_, B> {
    /// Files not packed.
    pub(crate) fn loose(files: BTreeMap<String, B>) -> Result<Self, StoreError> {
        let names = files.keys().cloned().collect();
        Self::new(From::Loose(files), names)
    }

    fn new(from: From<'_, B>, mut names: Vec<String>) -> Result<Files<'_, B>, StoreError> {
        if names.len() > FILES {
            return Err(bad(
                "The archive",
                format!("it has {} files; {FILES} is the most", names.len()),
            ));
        }
        names.sort();
        let kitchen = names
            .iter()
            .filter(|n| *n == "kitchen.json" || n.ends_with("/kitchen.json"))
            .min_by_key(|n| n.len())
            .ok_or_else(|| {
                bad(
                    "kitchen.json",
                    "this file was expected and is not there: this is no archive of a kitchen",
                )
            })?;
        let folder = kitchen.trim_end_matches("kitchen.json").to_owned();
        let mut files = Files {
            from,
            folder,
            names,
        };
        let kitchen: KitchenFile = files.json("kitchen.json")?;
        if kitchen.format != FORMAT {
            return Err(bad(
                "kitchen.json",
                format!(
                    "expected the format \"{FORMAT}\", found \"{}\"",
                    kitchen.format
                ),
            ));
        }
        if kitchen.format_version != FORMAT_VERSION {
            return Err(bad(
                "kitchen.json",
                format!(
                    "it has format version {}; this program reads version {FORMAT_VERSION}. Use \
                     the program that wrote it, or a newer one",
                    kitchen.format_version
                ),
            ));
        }
        files.measure()?;
        Ok(files)
    }

    /// Reads every file once: none is too large, nor all together.
    fn measure(&mut self) -> Result<(), StoreError> {
        let mut total = 0;
        for name in self.names.clone() {
            total += self.raw(&name)?.len() as u64;
            if total > TOTAL {
                return Err(bad(
                    "The archive",
                    format!("unpacked it is larger than {} MB", TOTAL >> 20),
                ));
            }
        }
        Ok(())
    }

    fn raw(&mut self, name: &str) -> Result<Vec<u8>, StoreError> {
        let large = || bad(name, format!("it is larger than {} MB", FILE >> 20));
        match &mut self.from {
            From::Loose(files) => {
                let bytes = files.get(name).map(AsRef::as_ref).unwrap_or_default();
                if bytes.len() as u64 > FILE {
                    return Err(large());
                }
                Ok(bytes.to_vec())
            }
            From::Zip(zip) => {
                let file = zip
                    .by_name(name)
                    .map_err(|e| bad(name, format!("it cannot be unpacked ({e})")))?;
                let mut bytes = Vec::new();
                file.take(FILE + 1)
                    .read_to_end(&mut bytes)
                    .map_err(|e| bad(name, format!("it cannot be unpacked ({e})")))?;
                if bytes.len() as u64 > FILE {
                    return Err(large());
                }
                Ok(bytes)
            }
        }
    }

    /// The names of the recipes' files.
    pub(crate) fn recipes(&self) -> Vec<String> {
        let folder = format!("{}recipes/", self.folder);
        let inside = |n: &&String| {
            n.strip_prefix(&folder).is_some_and(|rest| {
                rest.ends_with(".json") && !rest.contains('/') && !rest.starts_with('.')
            })
        };
        let names = self.names.iter().filter(inside);
        names.map(|n| n[self.folder.len()..].to_owned()).collect()
    }

    /// Files that no kitchen has.
    pub(crate) fn strangers(&self) -> Vec<String> {
        let own = self.recipes();
        let known = [
            "kitchen.json",
            "larder.json",
            "blends.json",
            "batches.json",
            "days.json",
            "README.txt",
        ];
        let names = self.names.iter().filter(|n| !n.ends_with('/'));
        names
            .filter(|n| {
                n.strip_prefix(&self.folder).is_none_or(|n| {
                    !known.contains(&n) && own.binary_search(&n.to_owned()).is_err()
                })
            })
            .cloned()
            .collect()
    }

    /// What a file says.
    pub(crate) fn json<T: DeserializeOwned>(&mut self, name: &str) -> Result<T, StoreError> {
        let bytes = self.raw(&format!("{}{name}", self.folder))?;
        let text = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(&bytes);
        serde_json::from_slice(text).map_err(|e| {
            let found = match e.classify() {
                serde_json::error::Category::Data => "a field is not what was expected",
                _ => "JSON was expected, and this is not",
            };
            bad(name, format!("{found}: {e}"))
        })
    }

    /// What a file says; nothing where it is not there.
    pub(crate) fn json_or_nothing<T: DeserializeOwned + Default>(
        &mut self,
        name: &str,
    ) -> Result<T, StoreError> {
        if self.names.contains(&format!("{}{name}", self.folder)) {
            self.json(name)
        } else {
            Ok(T::default())
        }
    }
}
