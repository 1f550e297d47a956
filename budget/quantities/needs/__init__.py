"""What each part and each built thing needs: materials, work, and what does not fit."""
