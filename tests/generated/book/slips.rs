//! Slips of the hand, put into an honest book.

use super::{Piece, Text, Writer};

impl Writer<'_> {
    /// Spoils about as many of a hundred lines as the knob says.
    pub(super) fn slip(&mut self) {
        let mut at = 0;
        while at < self.out.lines.len() {
            if self.pick.chance(self.knobs.slips) {
                self.slip_in(at);
            }
            at += 1;
        }
    }

    fn slip_in(&mut self, at: usize) {
        let pieces = self.out.lines[at].text.0.len();
        match self.pick.below(7) {
            // A line twice, or left out, or in its neighbour's place.
            0 => {
                let line = self.out.lines[at].clone();
                self.out.lines.insert(at, line);
            }
            1 => {
                self.out.lines.remove(at);
            }
            2 if at > 0 => self.out.lines.swap(at, at - 1),
            3 if pieces > 1 => {
                let gone = self.pick.below(pieces);
                self.out.lines[at].text.0.remove(gone);
            }
            4 => {
                let indent = self.pick.of(&["  ", "    ", "\t"]);
                self.out.lines[at].text.0.insert(0, Piece::Plain(indent.to_owned()));
            }
            5 => {
                let more = self.pick.of(&[
                    " EUR",
                    " -> 5",
                    " \"",
                    " deg",
                    " by",
                    " # ",
                    " ,",
                    " 2025-13-01",
                    "\u{a0}x",
                    " -",
                ]);
                self.out.lines[at].text = self.out.lines[at].text.clone().and(Text::of(more));
            }
            _ => {
                let plain = self.pick.below(pieces.max(1));
                if let Some(Piece::Plain(text)) = self.out.lines[at].text.0.get_mut(plain) {
                    let cut = text.floor_char_boundary(self.pick.below(text.len() + 1));
                    text.truncate(cut);
                }
            }
        }
    }
}
