"""One function a kind of paper: values in, a document out."""
