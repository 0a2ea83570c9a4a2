//! Where wood and spawn came from: strains with their ranges, batches, spawn lots, each entered before the
//! first log that needs it.
//! Never a yield: batches and lots make no difference to what a log bears.
//! Invariant: a log is of a batch only when its wood is the batch's, and of a lot only when its strain is.

use crate::inputs::{BatchLine, LogLine, LotLine};
use crate::keeping::{Keeping, text_at};
use serde_json::{Value, json};
use shadeyard_backend::error::Result;

impl Keeping<'_> {
    /// Enters what this log needs and is not there yet.
    pub(crate) fn supply(&mut self, line: &LogLine, laid: bool) -> Result<()> {
        let inputs = self.inputs();
        if let Some(strain) = inputs.strains.iter().find(|s| s.name == line.strain) {
            let fields = json!({"name": strain.name, "mushroom": strain.mushroom, "class": strain.class,
                "from_dc": strain.from_dc, "to_dc": strain.to_dc, "note": ""});
            self.once(&format!("strain {}", strain.name), "strain_set", "strain", &fields)?;
        }
        if let Some(batch) = batch_of(&inputs.batches, line) {
            let fields = json!({"name": batch.name, "wood": batch.wood, "felled": self.date(&batch.felled),
                "source": batch.source, "disc_wet_g": batch.disc_wet_g, "disc_dry_g": batch.disc_dry_g,
                "doubtful": batch.doubtful == 1, "note": ""});
            self.once(&format!("batch {}", batch.name), "batch_set", "batch", &fields)?;
        }
        if let Some(lot) = lot_of(&inputs.lots, line).filter(|_| laid) {
            let strain = self.supplied(&format!("strain {}", lot.strain));
            let fields = json!({"name": lot.name, "strain": strain, "form": lot.form, "source": lot.source,
                "received": self.date(&lot.received), "kept": lot.kept, "doubtful": lot.doubtful == 1, "note": ""});
            self.once(&format!("lot {}", lot.name), "lot_set", "lot", &fields)?;
        }
        Ok(())
    }

    /// The ids of the log's batch and lot, as far as they are in the register.
    pub(crate) fn batch_and_lot(&self, line: &LogLine) -> (Option<String>, Option<String>) {
        let inputs = self.inputs();
        let batch = batch_of(&inputs.batches, line).and_then(|b| self.supplied(&format!("batch {}", b.name)));
        let lot = lot_of(&inputs.lots, line).and_then(|l| self.supplied(&format!("lot {}", l.name)));
        (batch, lot)
    }

    fn once(&mut self, key: &str, command: &str, what: &str, fields: &Value) -> Result<()> {
        if self.supplied(key).is_some() {
            return Ok(());
        }
        let mut request = json!({"fields": fields});
        request[what] = Value::Null;
        let done = self.act(command, request)?;
        self.is_supplied(key, text_at(&done, &format!("/said/{what}"))?);
        Ok(())
    }
}

fn batch_of<'a>(batches: &'a [BatchLine], line: &LogLine) -> Option<&'a BatchLine> {
    batches.iter().find(|b| b.wood == line.wood && names(&b.tags, &line.tag))
}

fn lot_of<'a>(lots: &'a [LotLine], line: &LogLine) -> Option<&'a LotLine> {
    lots.iter().find(|l| l.strain == line.strain && names(&l.tags, &line.tag))
}

fn names(tags: &str, tag: &str) -> bool {
    tags.split(' ').any(|one| one == tag)
}
