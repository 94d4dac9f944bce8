"""Peak demand of every run: by the fixture units of one code family, and by the binomial method of the 2017 study."""
