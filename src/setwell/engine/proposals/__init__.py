"""From a brief to proposals: what to try, what it trades away, and why the rest fell out."""
