package search

// findFirst looks for what is heaviest, before anything is proved. A level pose is one that
// may lean, so that what is found level counts as well: nothing then is lighter than level.
func (r *run) findFirst() {
	r.find()
	var level *run
	if r.tiltMax > 0 {
		level = r.levelTwin()
		level.find()
		level.lookHarder(level.best)
		r.adopt(level)
		r.find() // its poses may lead further
	}
	r.lookHarder(r.best)
	if !r.opt.wantsFreeform() {
		return
	}
	r.freeforms(false)
	if level != nil {
		level.freeforms(true)
		r.ended = level.ended
		for _, t := range level.trials {
			if t.size < 0 {
				r.addFreeform(t)
			}
		}
	}
	r.freeforms(true)
}

// levelTwin returns a search of the same stone for level poses that knows nothing yet, and
// shows nothing: from the poses of one the other would find less of its own.
func (r *run) levelTwin() *run {
	l := *r
	l.tiltMax, l.emit, l.ended = 0, nil, map[faceAndBack][]spotOf{}
	l.ask(sizes(r.set, r.opt))
	return &l
}

// adopt takes over what a search for level poses found to fit and lets it lean. What is
// still open may be looked for anew.
func (r *run) adopt(level *run) {
	found := calibrated(level.trials)
	var better []*trial
	for k, t := range calibrated(r.trials) {
		t.effort = 0
		if l := found[k]; l.fits() && !t.passed && (t.verdict != Fits || l.lower > t.lower) {
			t.verdict, t.model, t.at, t.value, t.lower = Fits, l.model, l.at, l.value, l.lower
			better = append(better, t)
		}
	}
	r.inWaves(better, (*trial).fits, func(t *trial) { improve(r.prober(t, r.tiltMax), t, t.at) }, r.taken)
}

// calibrated returns the trials that are not of freeforms.
func calibrated(trials []*trial) (out []*trial) {
	for _, t := range trials {
		if t.size >= 0 {
			out = append(out, t)
		}
	}
	return out
}
