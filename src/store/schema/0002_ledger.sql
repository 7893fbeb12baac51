-- The ledger of imports: under which rulebook, what each file was, how it was read.
ALTER TABLE imports ADD COLUMN rulebook TEXT;
