//! The room that a label takes. A plan is laid out before it is typeset, so widths are bounds: no letter of the
//! label face is wider than the class that it is counted to.

/// The height of a line of a label with the ground around it.
pub const LINE: f64 = 1.15;
/// From one line of a label to the next.
const NEXT_LINE: f64 = 1.12;

/// Returns the most room that a line of text takes across, in sizes of its type, at the semibold weight of Inter
/// or lighter. The classes are measured from that face.
pub fn width(line: &str) -> f64 {
    line.chars().map(advance).sum()
}

/// Returns width and height of the lines of a label.
pub fn size(lines: &[String]) -> (f64, f64) {
    let widest = lines.iter().map(|line| width(line)).fold(0.0, f64::max);
    (widest, LINE + NEXT_LINE * (lines.len().max(1) - 1) as f64)
}

fn advance(c: char) -> f64 {
    match c {
        ' ' | '\u{A0}' => 0.29,
        'i' | 'j' | 'l' | 'I' | '\'' | '.' | ',' | ':' | ';' | '!' | '’' | '‘' | '·' => 0.33,
        'f' | 'r' | 't' | '(' | ')' | '[' | ']' | '{' | '}' | '/' | '\\' | '|' | '"' | '-' => 0.48,
        'm' | 'w' | 'M' | 'W' | '%' | '@' | '—' | '…' => 1.02,
        'a'..='z' => 0.65,
        '0'..='9' | '+' | '<' | '=' | '>' | '?' | '*' | '$' | '#' | '&' | '_' | '^' | '~' => 0.68,
        ' '..='~' => 0.79,
        'æ' | 'Æ' | 'œ' | 'Œ' | 'Ŵ' | 'ŵ' => 1.02,
        // Latin letters with a mark are as wide as those without.
        '\u{C0}'..='\u{17F}' if c.is_lowercase() => 0.74,
        '\u{C0}'..='\u{17F}' => 0.86,
        _ => 1.15,
    }
}

/// Returns the text as two lines of lengths as equal as its spaces allow; `None` without a space.
pub fn in_two(text: &str) -> Option<Vec<String>> {
    let cuts = text.match_indices(' ').map(|(at, _)| (&text[..at], &text[at + 1..]));
    let widest = |(a, b): &(&str, &str)| width(a).max(width(b));
    let best = cuts.min_by(|a, b| widest(a).total_cmp(&widest(b)))?;
    Some(vec![best.0.to_owned(), best.1.to_owned()])
}

#[cfg(test)]
mod tests {
    use super::*;
    use typst::foundations::Bytes;
    use typst::layout::Abs;
    use typst::text::{Font, FontVariant, FontVariations};

    /// No letter of the faces is wider than its class, and no class is loose: what fits is not given up.
    #[test]
    fn a_width_is_a_bound_of_the_label_face() {
        let faces = [
            ("regular", include_bytes!("../../../../fonts/Inter-Regular.otf").as_slice()),
            ("semibold", include_bytes!("../../../../fonts/Inter-SemiBold.otf")),
        ];
        for (name, bytes) in faces {
            let font = Font::new(Bytes::new(bytes.to_vec()), 0).unwrap();
            let variant = FontVariant::default();
            let font = font.instantiate(variant, Abs::pt(10.0), &FontVariations::default());
            let real = |c: char| Some(font.x_advance(font.ttf().glyph_index(c)?.0)?.get());
            let letters = (' '..='~').chain('\u{A0}'..='\u{17F}').chain("’‘“”–—…·€".chars());
            for c in letters.filter(|c| !c.is_control()) {
                let Some(real) = real(c) else { continue };
                assert!(real <= advance(c) + 1e-9, "{name}: {c} is {real} wide");
            }
            for text in ["24 ft", "5 ft 4 1/2 in", "Garage floor", "Furnace pad", "Piso del garaje"]
            {
                let real: f64 = text.chars().filter_map(real).sum();
                assert!(width(text) < real * 1.3, "{name}: {text} is {real} wide");
            }
        }
    }

    #[test]
    fn a_name_is_cut_at_the_space_nearest_to_its_middle() {
        let lines = in_two("Workshop behind the house").unwrap();
        assert_eq!(lines, ["Workshop", "behind the house"]);
        assert_eq!(in_two("Garage"), None);
        assert!(size(&lines).0 < width("Workshop behind the house"));
        assert!(size(&lines).1 > LINE);
    }
}
