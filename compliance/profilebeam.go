package compliance

// ProfileBeams are the kinds of beam whose section is given by its shape.
var ProfileBeams []*Kind
