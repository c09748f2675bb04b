//! JSON as it is given at the command line: read as usual, but an object that has a key twice is refused rather than
//! read as if only the last stood there.

use std::fmt;

use serde::de::{Deserialize, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use serde_json::{Map, Value};

/// Reads JSON.
///
/// # Errors
/// Where it is no JSON, or an object in it has a key twice; the message says where.
pub fn read(text: &str) -> Result<Value, serde_json::Error> {
    serde_json::from_str::<Single>(text).map(|single| single.0)
}

/// A value in which every key stands once.
struct Single(Value);

impl<'de> Deserialize<'de> for Single {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_any(Reader).map(Single)
    }
}

struct Reader;

impl<'de> Visitor<'de> for Reader {
    type Value = Value;

    fn expecting(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        to.write_str("JSON")
    }

    fn visit_unit<E: Error>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_bool<E: Error>(self, value: bool) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_i64<E: Error>(self, value: i64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_u64<E: Error>(self, value: u64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_f64<E: Error>(self, value: f64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_str<E: Error>(self, value: &str) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Value, A::Error> {
        let mut values = Vec::new();
        while let Some(Single(value)) = list.next_element()? {
            values.push(value);
        }
        Ok(Value::Array(values))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut entries: A) -> Result<Value, A::Error> {
        let mut object = Map::new();
        while let Some((key, Single(value))) = entries.next_entry::<String, Single>()? {
            if object.contains_key(&key) {
                return Err(A::Error::custom(format_args!("`{key}` is given twice; give each key at most once")));
            }
            object.insert(key, value);
        }
        Ok(Value::Object(object))
    }
}
