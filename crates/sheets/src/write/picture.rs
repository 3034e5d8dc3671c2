//! Squares of colour as a picture inside a drawing: PNG in a data address.

use crate::drawing::{Colour, Squares};

/// The picture as a data address; none where it is empty or not whole.
pub(super) fn data_address(squares: &Squares) -> Option<String> {
    Some(format!("data:image/png;base64,{}", base64(&png_of(squares)?)))
}

/// The picture as PNG with a palette; colour zero is clear.
fn png_of(squares: &Squares) -> Option<Vec<u8>> {
    let columns = squares.columns;
    let rows = squares.colours.len().checked_div(columns)?;
    if rows == 0 || rows * columns != squares.colours.len() || squares.palette.len() > 255 {
        return None;
    }
    let clear = [Colour(0, 0, 0)];
    let colours = clear.iter().chain(&squares.palette);
    let palette: Vec<u8> = colours.flat_map(|Colour(r, g, b)| [*r, *g, *b]).collect();
    let mut out = Vec::new();
    let size = (u32::try_from(columns).ok()?, u32::try_from(rows).ok()?);
    let mut encoder = png::Encoder::new(&mut out, size.0, size.1);
    encoder.set_color(png::ColorType::Indexed);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_palette(palette);
    encoder.set_trns(vec![0]);
    let mut writer = encoder.write_header().ok()?;
    writer.write_image_data(&squares.colours).ok()?;
    writer.finish().ok()?;
    Some(out)
}

/// Bytes as base 64 (RFC 4648).
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let all = three.iter().enumerate();
        let bits =
            all.fold(0_u32, |bits, (place, byte)| bits | u32::from(*byte) << (16 - 8 * place));
        for place in 0..4 {
            let letter = LETTERS[(bits >> (18 - 6 * place)) as usize & 63];
            out.push(if place <= three.len() { char::from(letter) } else { '=' });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use plane::Point;

    /// Test vectors of RFC 4648, section 10.
    #[test]
    fn base64_is_that_of_the_standard() {
        let vectors =
            [("", ""), ("f", "Zg=="), ("fo", "Zm8="), ("foo", "Zm9v"), ("foobar", "Zm9vYmFy")];
        for (plain, coded) in vectors {
            assert_eq!(base64(plain.as_bytes()), coded);
        }
    }

    #[test]
    fn a_picture_reads_back() {
        let squares = Squares {
            bounds_m: [Point::new(0.0, 0.0), Point::new(3.0, 2.0)],
            columns: 3,
            colours: vec![1, 2, 0, 2, 1, 1],
            palette: vec![Colour(1, 2, 3), Colour(250, 251, 252)],
        };
        let bytes = png_of(&squares).unwrap();
        let mut reader = png::Decoder::new(std::io::Cursor::new(bytes)).read_info().unwrap();
        let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
        let info = reader.next_frame(&mut pixels).unwrap();
        assert_eq!((info.width, info.height), (3, 2));
        assert_eq!(&pixels[..6], &squares.colours[..]);
        let ragged = Squares { columns: 4, ..squares };
        assert_eq!(png_of(&ragged), None);
    }
}
