"""Customers, the price list, jobs from intake to pickup, what is in the house, and receipts."""
