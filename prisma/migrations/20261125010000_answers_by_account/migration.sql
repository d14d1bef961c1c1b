-- Somebody with an account may answer for themselves.

ALTER TABLE "confirmations" DROP CONSTRAINT "confirmations_source_check";
ALTER TABLE "confirmations"
  ADD CONSTRAINT "confirmations_source_check" CHECK ("source" IN ('link', 'mail', 'manager', 'account'));
