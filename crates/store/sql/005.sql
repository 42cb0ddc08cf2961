-- Schema 5: a later note can say that a batch was finished by mistake (0), or that it was a bake
-- after all (1). The newest that says either holds.

ALTER TABLE later ADD COLUMN counts INTEGER;
