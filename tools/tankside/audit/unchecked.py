"""What no rule can know, said wherever an audit is shown."""

NOT_CHECKED = (
    "Presence, order and the model of the plant are looked at, not the truth of a text.",
    "Nobody has looked at the workshop: whether a sheet hangs, a lock fits or an eyewash runs.",
    "Nobody has watched the work: whether a step is done as it is written.",
    "Whether the data sheets are right for what was delivered.",
    "Local codes, the permit, the insurer and the fire service may ask for more.",
)
