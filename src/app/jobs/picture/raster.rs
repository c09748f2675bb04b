//! PNG and JPEG bytes become dots. Only here is `image` called.

use std::io::Cursor;

use image::error::ImageError;
use image::imageops::FilterType;
use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits, RgbaImage};

use super::fault::Fault;
use super::size::fitted;
use crate::present::Image;

/// Most dots on a side.
const MOST_SIDE: u32 = 8_000;
/// Most bytes that decoding may take: 40 million dots of four bytes.
const MOST_BYTES: u64 = 160_000_000;

/// Decodes a picture, turns it as its camera says, and makes it fit. What it is, is read from its bytes.
pub(super) fn decode(bytes: &[u8]) -> Result<Image, Fault> {
    let reader =
        ImageReader::new(Cursor::new(bytes)).with_guessed_format().map_err(|e| Fault::Raster(e.to_string()))?;
    if !matches!(reader.format(), Some(ImageFormat::Png | ImageFormat::Jpeg)) {
        return Err(Fault::Raster("it begins as neither does".to_owned()));
    }
    let mut reader = reader;
    reader.limits(limits());
    let mut decoder = reader.into_decoder().map_err(|e| fault(&e))?;
    let (width, height) = decoder.dimensions();
    let mut left = limits();
    left.check_dimensions(width, height).map_err(|e| fault(&e))?;
    left.reserve(decoder.total_bytes()).map_err(|e| fault(&e))?;
    decoder.set_limits(left).map_err(|e| fault(&e))?;
    // A picture whose turn cannot be read stands as it is.
    let turn = decoder.orientation().ok();
    let mut image = DynamicImage::from_decoder(decoder).map_err(|e| fault(&e))?;
    if let Some(turn) = turn {
        image.apply_orientation(turn);
    }
    Ok(fit(image.into_rgba8()))
}

fn limits() -> Limits {
    let mut limits = Limits::default();
    limits.max_image_width = Some(MOST_SIDE);
    limits.max_image_height = Some(MOST_SIDE);
    limits.max_alloc = Some(MOST_BYTES);
    limits
}

fn fault(error: &ImageError) -> Fault {
    match error {
        ImageError::Limits(_) => Fault::Dots,
        other => Fault::Raster(other.to_string()),
    }
}

/// Multiplies by alpha first, so that the colour of what cannot be seen does not come to its edges.
fn fit(mut dots: RgbaImage) -> Image {
    for dot in dots.pixels_mut() {
        let alpha = u16::from(dot.0[3]);
        for part in &mut dot.0[..3] {
            *part = ((u16::from(*part) * alpha + 127) / 255) as u8;
        }
    }
    let (width, height) = fitted(dots.width() as f32, dots.height() as f32, false);
    let dots = if (width, height) == dots.dimensions() {
        dots
    } else {
        image::imageops::resize(&dots, width, height, FilterType::Triangle)
    };
    Image { width, height, rgba: dots.into_raw() }
}
