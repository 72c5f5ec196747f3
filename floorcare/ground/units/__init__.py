"""Number types and conversions: area, gloss, slip, rates, dilution."""
