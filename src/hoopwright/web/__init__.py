"""The page: at the desk, at the press, in the inspection room. Thin: parse, ask the desk, show."""
