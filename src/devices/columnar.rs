//! A table by columns as an Apache Parquet file, compressed by Snappy: what engines for many attempts read.

use std::fmt::Write;
use std::sync::Arc;

use parquet::basic::Compression;
use parquet::data_type::{BoolType, ByteArray, ByteArrayType, DoubleType, Int64Type};
use parquet::errors::ParquetError;
use parquet::file::properties::WriterProperties;
use parquet::file::writer::SerializedFileWriter;
use parquet::schema::parser::parse_message_type;

use crate::present::columns::{ColumnTable, Values};

/// The file could not be made.
#[derive(Debug, thiserror::Error)]
#[error("the Parquet file could not be made ({0}). Export CSV instead, and report this as a fault of the program")]
pub struct NoParquet(#[from] ParquetError);

/// The table as the bytes of a Parquet file.
///
/// # Errors
/// Where the file cannot be put together, which is a fault of the program.
pub fn as_parquet(table: &ColumnTable) -> Result<Vec<u8>, NoParquet> {
    let schema = Arc::new(parse_message_type(&message(table))?);
    let properties = Arc::new(WriterProperties::builder().set_compression(Compression::SNAPPY).build());
    let mut bytes = Vec::new();
    let mut writer = SerializedFileWriter::new(&mut bytes, schema, properties)?;
    let mut group = writer.next_row_group()?;
    for (_, values) in &table.columns {
        let Some(mut column) = group.next_column()? else { break };
        match values {
            Values::Text(of) => {
                let of: Vec<ByteArray> = of.iter().map(|text| text.as_str().into()).collect();
                column.typed::<ByteArrayType>().write_batch(&of, None, None)?;
            }
            Values::MaybeText(of) => {
                let there: Vec<ByteArray> = of.iter().flatten().map(|text| text.as_str().into()).collect();
                let levels: Vec<i16> = of.iter().map(|text| i16::from(text.is_some())).collect();
                column.typed::<ByteArrayType>().write_batch(&there, Some(&levels), None)?;
            }
            Values::Whole(of) | Values::Time(of) => {
                column.typed::<Int64Type>().write_batch(of, None, None)?;
            }
            Values::Real(of) => {
                column.typed::<DoubleType>().write_batch(of, None, None)?;
            }
            Values::Flag(of) => {
                column.typed::<BoolType>().write_batch(of, None, None)?;
            }
        }
        column.close()?;
    }
    group.close()?;
    writer.close()?;
    Ok(bytes)
}

/// The table's columns in Parquet's own words.
fn message(table: &ColumnTable) -> String {
    let columns = table.columns.iter().fold(String::new(), |mut out, (name, values)| {
        let (sort, mark) = match values {
            Values::Text(_) => ("required binary", " (UTF8)"),
            Values::MaybeText(_) => ("optional binary", " (UTF8)"),
            Values::Whole(_) => ("required int64", ""),
            Values::Time(_) => ("required int64", " (TIMESTAMP(MILLIS,true))"),
            Values::Real(_) => ("required double", ""),
            Values::Flag(_) => ("required boolean", ""),
        };
        // Writing into a string does not fail.
        let _ = write!(out, " {sort} {name}{mark};");
        out
    });
    format!("message class {{{columns} }}")
}
