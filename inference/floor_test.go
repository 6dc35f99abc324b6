package inference

func tellFloor(pods int) {}
