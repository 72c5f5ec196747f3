"""One module per thing a person does."""
