"""Pictures for sewing together: the toy from three sides, and with its parts apart."""
