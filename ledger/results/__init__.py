"""Income, expenses and profit of a period, as the books have them and on the cash method, with the bridge between."""
