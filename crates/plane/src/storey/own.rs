//! The loop of one zone: its leader, its field, and the leader back.
