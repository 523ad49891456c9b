//! Reading JSON field by field, so that each error names its field, quotes what was given and
//! says what would do.

use std::io::Read;

use serde_json::{Map, Value};
use tablefold_geometry::{Length, Quoted};

use super::CommandError;

/// A request is a page of text; a megabyte is a slip.
const LONGEST_INPUT: u64 = 1 << 20;

/// All of standard input as text.
pub(super) fn read_input(input: impl Read) -> Result<String, CommandError> {
    let mut text = String::new();
    let read = input.take(LONGEST_INPUT + 1).read_to_string(&mut text);
    match read {
        Err(error) => Err(CommandError(format!(
            "standard input cannot be read ({error}). Give JSON in UTF-8."
        ))),
        Ok(length) if length as u64 > LONGEST_INPUT => Err(CommandError(
            "standard input is over 1 MB. Give one request.".to_owned(),
        )),
        Ok(_) => Ok(text),
    }
}

/// The value of a JSON text.
pub(super) fn parse(text: &str) -> Result<Value, CommandError> {
    serde_json::from_str(text).map_err(|error| {
        CommandError(format!(
            "standard input is no JSON: {error}. Give one object, such as {{\"contents\": ..}}."
        ))
    })
}

/// An error at a field.
pub(super) fn wrong(field: &str, sentence: impl std::fmt::Display) -> CommandError {
    CommandError(format!("{field}: {sentence}"))
}

/// A value as an error quotes it.
pub(super) fn quote(value: &Value) -> Quoted {
    match value {
        Value::String(text) => Quoted::new(text),
        other => Quoted::new(&other.to_string()),
    }
}

/// A JSON object whose fields are all known, and where it stands.
pub(super) struct Object<'v> {
    path: String,
    map: &'v Map<String, Value>,
}

impl<'v> Object<'v> {
    /// The whole input.
    pub(super) fn root(value: &'v Value, known: &[&str]) -> Result<Self, CommandError> {
        Self::new(value, String::new(), known)
    }

    /// An object at a path; other fields than the known ones are refused.
    pub(super) fn new(
        value: &'v Value,
        path: String,
        known: &[&str],
    ) -> Result<Self, CommandError> {
        let Value::Object(map) = value else {
            let at = if path.is_empty() {
                "standard input"
            } else {
                &path
            };
            let fields = known.join(", ");
            let sentence = format!("{} is no object. Give one with {fields}.", quote(value));
            return Err(wrong(at, sentence));
        };
        let object = Self { path, map };
        match map.keys().find(|key| !known.contains(&key.as_str())) {
            None => Ok(object),
            Some(key) => {
                let shown = Quoted::new(key);
                let at = if object.path.is_empty() {
                    "standard input"
                } else {
                    &object.path
                };
                let fields = known.join(", ");
                Err(wrong(
                    at,
                    format!("{shown} is no field here. The fields are {fields}."),
                ))
            }
        }
    }

    /// The path of a field.
    pub(super) fn at(&self, name: &str) -> String {
        if self.path.is_empty() {
            name.to_owned()
        } else {
            format!("{}.{name}", self.path)
        }
    }

    /// A field; `null` is as good as none.
    pub(super) fn get(&self, name: &str) -> Option<&'v Value> {
        self.map.get(name).filter(|value| !value.is_null())
    }

    fn need(&self, name: &str, example: &str) -> Result<&'v Value, CommandError> {
        let missing = || wrong(&self.at(name), format!("nothing is given. Give {example}."));
        self.get(name).ok_or_else(missing)
    }

    /// A length: a number of millimetres or a text with a unit.
    pub(super) fn length(&self, name: &str) -> Result<Length, CommandError> {
        let value = self.need(name, "a length, such as \"5 1/4 in\" or 133")?;
        length(value, &self.at(name))
    }

    /// A whole number.
    pub(super) fn whole(&self, name: &str) -> Result<u32, CommandError> {
        let value = self.need(name, "a whole number, such as 14")?;
        let number = value.as_u64().and_then(|number| u32::try_from(number).ok());
        number.ok_or_else(|| {
            let sentence = format!(
                "{} is no whole number from 0 to {}. Give one such as 14.",
                quote(value),
                u32::MAX
            );
            wrong(&self.at(name), sentence)
        })
    }

    /// A text.
    pub(super) fn text(&self, name: &str, example: &str) -> Result<&'v str, CommandError> {
        let value = self.need(name, &format!("a text, such as \"{example}\""))?;
        value.as_str().ok_or_else(|| {
            let sentence = format!(
                "{} is no text. Give one such as \"{example}\".",
                quote(value)
            );
            wrong(&self.at(name), sentence)
        })
    }

    /// An object inside.
    pub(super) fn object(&self, name: &str, known: &[&str]) -> Result<Object<'v>, CommandError> {
        let value = self.need(name, &format!("an object with {}", known.join(", ")))?;
        Object::new(value, self.at(name), known)
    }

    /// A list of objects inside.
    pub(super) fn objects(
        &self,
        name: &str,
        known: &[&str],
    ) -> Result<Vec<Object<'v>>, CommandError> {
        let value = self.need(
            name,
            &format!("a list of objects with {}", known.join(", ")),
        )?;
        let Value::Array(list) = value else {
            let sentence = format!("{} is no list. Give one, such as [..].", quote(value));
            return Err(wrong(&self.at(name), sentence));
        };
        let place = |index: usize| format!("{}[{index}]", self.at(name));
        let objects = list.iter().enumerate();
        objects
            .map(|(index, value)| Object::new(value, place(index), known))
            .collect()
    }
}

/// A length anywhere.
pub(super) fn length(value: &Value, field: &str) -> Result<Length, CommandError> {
    if !(value.is_number() || value.is_string()) {
        let sentence = format!(
            "{} is no length. Give a number of millimetres or a text such as \"5 1/4 in\".",
            quote(value)
        );
        return Err(wrong(field, sentence));
    }
    serde_json::from_value(value.clone()).map_err(|error| wrong(field, error))
}
