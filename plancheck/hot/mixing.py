"""Hot and cold water mixed: equal heat for each volume, so that temperatures go by flow. Any unit of flow, degC or degF."""


def hot_share(mixed: float, cold: float, hot: float) -> float:
    """The share of hot in a mix of that temperature, 0 to 1: f = (mixed - cold) / (hot - cold).

    1 where the hot water does not reach the temperature, 0 where the cold is as warm as that.
    """
    if mixed <= cold:
        return 0.0
    return 1.0 if hot <= mixed else (mixed - cold) / (hot - cold)


def mixed_temperature(hot_flow: float, hot: float, cold_flow: float, cold: float) -> float:
    """The temperature of a mix of two flows. Raises ZeroDivisionError where nothing flows."""
    return (hot_flow * hot + cold_flow * cold) / (hot_flow + cold_flow)
