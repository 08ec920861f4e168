//! Where units are on the plan.
