//! Finds text that leaves its page. Typst prints it there without a warning.

use typst::layout::{Frame, FrameItem, Point, Transform};
use typst_layout::PagedDocument;

/// Slack for glyphs that overhang, in points.
const SLACK: f64 = 1.0;

/// The first text that leaves a page: the page's number and the text.
pub fn overflow(document: &PagedDocument) -> Option<(usize, String)> {
    document.pages().iter().enumerate().find_map(|(i, page)| {
        let size = page.frame.size();
        let bounds = (size.x.to_pt() + SLACK, size.y.to_pt() + SLACK);
        outside(&page.frame, Transform::identity(), bounds).map(|text| (i + 1, text))
    })
}

fn outside(frame: &Frame, transform: Transform, bounds: (f64, f64)) -> Option<String> {
    frame.items().find_map(|(at, item)| match item {
        // What a layout clips it has cut on purpose: a running foot shows one line of a long name.
        FrameItem::Group(group) if group.clip.is_some() => None,
        FrameItem::Group(group) => {
            let inner =
                transform.pre_concat(Transform::translate(at.x, at.y)).pre_concat(group.transform);
            outside(&group.frame, inner, bounds)
        }
        FrameItem::Text(text) => {
            let start = at.transform(transform);
            let end = Point::new(at.x + text.width(), at.y).transform(transform);
            let leaves = |p: Point| {
                p.x.to_pt() < -SLACK
                    || p.y.to_pt() < -SLACK
                    || p.x.to_pt() > bounds.0
                    || p.y.to_pt() > bounds.1
            };
            (leaves(start) || leaves(end)).then(|| text.text.to_string())
        }
        _ => None,
    })
}
