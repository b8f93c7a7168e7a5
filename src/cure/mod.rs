//! How a coat dries or cures in the air of a room.
