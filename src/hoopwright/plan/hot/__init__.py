"""From cold to hot: growth, joints, floats, seals and springs of a whole liner."""
