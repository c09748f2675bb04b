//! The kit: widgets and marks, each with its accessible name. What has a colour, a size or a distance of its
//! own and is used by screens stands here.

mod act;
mod bar;
mod block;
mod chart;
mod choice;
mod drawing;
mod expression;
mod field;
mod gauge;
mod icon;
mod list;
mod mark;
mod notice;
mod pane;
mod picture;
mod rich;
mod ruler;
mod sheet;
mod table;
mod text;
mod zigzag;

pub use act::{Act, button, link};
pub use bar::dimensioned_bar;
pub use chart::{Chart, chart};
pub use choice::{option, toggle};
pub use drawing::{DrawingLocal, Laid, drawing, fitted, part_shown};
pub use expression::{Expression, cursor_at_start, cursor_to_end, expression_field, expression_job};
pub use field::{Field, field, field_height, field_read};
pub use gauge::{marks, reliability, time_bar, trend};
pub use icon::{Icon, icon, logo};
pub use list::{grip, item_ground, key_button, list, list_item, word_button};
pub use mark::{Mark, dashed_slot, dotted_under, key_box, mark, number_box, recall_bar, ring_focus, wedge_in_margin};
pub use notice::notice;
pub use pane::{Panes, Side, end_of_panes, flowing, list_rule, panes};
pub use picture::{PictureLocal, picture};
pub use rich::{plain_text, rich, rich_height};
pub use ruler::ruler;
pub use sheet::{Room, Sheet, Shown, is_low, margins, room};
pub use table::{Cell, Column, columns_of, head_row, row};
pub use text::{heading, job, label, label_in, lines, paint, paint_in, width_of};
pub use zigzag::{ZIGZAG, break_line};
