"""From a look to a name: the conversation, one answer at once, why it is this one, and what a species looks like."""
