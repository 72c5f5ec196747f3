"""The forecast on trial: hidden readings, and what other ways of forecasting say of them."""
