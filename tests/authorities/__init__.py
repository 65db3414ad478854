"""Values from outside, one file per source: data and citation. Tests read them; nothing here computes."""
