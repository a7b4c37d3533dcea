//! Known pipes and cables on an elevation: where no staple may go. The notes tell which is which.

use super::view::View;
use crate::sheet::drawing::Drawing;
use crate::sheet::model::Layer;
use crate::sheet::sign::{self, Sign};

/// Draws the lines.
pub fn lines(view: &View, drawing: &mut Drawing) {
    for (i, service) in view.wall().services.iter().enumerate() {
        let (from, to) = (view.map.point(service.from), view.map.point(service.to));
        drawing.keep_clear(&[from, to]);
        drawing.signs.insert(Sign::Service);
        let id = view.id(&format!("service-{}", i + 1));
        let word = service.kind.word();
        drawing.group(Layer::Room, id, format!("{word} behind the wall"), view.kept(sign::service(from, to)));
    }
}
