//! Notices onto paper: the plan of their sheets, the documents, the drawings of single notices.
