// What of a page's notes is heard when: `page` is its data, as notes.py writes it.
const notesOf = (page) => {
  const pairs = ([, ...places], least, most) => {
    const found = [];
    for (let at = 0; at < places.length; at += 2)
      if (places[at] >= least && places[at] < most) found.push([places[at], places[at + 1]]);
    return found;
  };

  // What is heard of a player's bars `first` to `last`, in seconds at the written tempo from the first of them on.
  const listed = (play, first, last, loop) => {
    const starts = [0], { tempos } = play, spans = [];
    for (const bar of play.bars) starts.push(starts.at(-1) + page.bars[bar][1]);
    for (let at = 0, second = 0; at < tempos.length; at += 2) {
      const length = 60 / tempos[at + 1] / page.ticks;
      if (at) second += (tempos[at] - tempos[at - 2]) * spans.at(-1)[2];
      spans.push([tempos[at], second, length]);
    }
    const whole = (tick) => {
      const [from, second, length] = spans.findLast(([start]) => start <= tick) ?? spans[0];
      return second + (tick - from) * length;
    };
    const origin = whole(starts[first]), time = (tick) => whole(tick) - origin;
    const items = [], ends = time(starts[last + 1]);
    for (let place = first; place <= last; place++) {
      const start = starts[place], [meter, length, skipped, notes, slaps = []] = page.bars[play.bars[place]];
      items.push({ at: time(start), bar: place });
      for (let one = 0, tick = start; one < notes.length; one += 2) {
        tick += notes[one];
        const kind = page.kinds[notes[one + 1]], at = Math.max(0, time(tick));
        const moves = [];
        for (let move = 10; move < kind.length; move += 5)
          moves.push([kind[move], time(tick + kind[move + 1]), time(tick + kind[move + 2]), kind[move + 3], kind[move + 4]]);
        items.push({ at, kind, moves, until: time(tick + kind[5]), seed: seedOf(place, kind[0], notes[one + 1], one) });
      }
      for (let one = 0; one < slaps.length; one += 3)
        items.push({ at: time(start + slaps[one]), slap: slaps[one + 1], loud: slaps[one + 2], seed: seedOf(place, one) });
      for (const [tick, strength] of pairs(page.meters[meter], skipped, skipped + length))
        items.push({ at: time(start + tick - skipped), click: strength });
    }
    items.sort((one, other) => one.at - other.at);
    const next = {};
    for (const round of loop ? [ends, 0] : [0])
      for (const one of items.filter(({ kind }) => kind).reverse()) {
        if (!round) one.next = next[one.kind[0]];
        next[one.kind[0]] = one.at + round;
      }
    return { items, ends, quarter: 60 / (tempos[spans.findLastIndex(([start]) => start <= starts[first]) * 2 + 1] ?? 60) };
  };
  // A note at a speed: when it is touched, and how fast it dies away then, as the recording has it.
  const voiced = ({ at, until, next, kind, moves, seed }, speed, when, rate) => {
    const start = Math.floor(when * rate + 1e-6), { damping } = page.guitar;
    const samples = (second) => Math.round((when + (second - at) / speed) * rate) - start;
    const [string, midi, fret, finger, loud, , ends, every = 1, dead = 0, vibrates = 0] = kind;
    const again = next !== undefined && ("ao".includes(ends) || next <= until);
    const stop = again ? next : until, sooner = again ? Math.min(damping.before_next, (stop - at) / speed / 3) : 0;
    const seconds = again || ends === "d" ? damping.palm : ends === "o" ? damping.dies : damping.lifted;
    const rings = ends === "o" && !again ? damping.rings_on : 0;
    const damp = Math.max(1, samples(stop + (rings - sooner) * speed));
    let last = 0;
    const changes = moves.map(([what, begin, end, place, pitch]) => {
      const at = last = Math.max(last, samples(begin));
      return { kind: what, at, lasts: Math.max(32, samples(end) - at), fret: place, midi: pitch };
    });
    if (vibrates) {
      const arrived = moves.length ? Math.max(last, samples(moves.at(-1)[2])) : 0;
      changes.push({ kind: "v", at: arrived + Math.floor(page.guitar.slurs.vibrato_starts * rate) });
    }
    const number = string >> 1;
    return {
      make: page.guitar.makes[string], capo: page.guitar.capo[number], string: number, mate: string & 1, midi, fret, finger, loud, every, dead,
      seed, late: when * rate - start, changes: [...changes.filter((one) => one.at < damp), { kind: "d", at: damp, seconds }],
    };
  };

  // Clicks before bar `first`, a quarter note of so many seconds: a bar of its meter, two where it is short, up to a pickup.
  const countedIn = (play, first, quarter) => {
    const [number, , skipped] = page.bars[play.bars[first]], meter = page.meters[number];
    const second = quarter / page.ticks, lengths = [skipped || meter[0]];
    if (meter[0] * second < 2 - 1e-6 || lengths[0] * 2 < meter[0]) lengths.unshift(meter[0]);
    let at = 0;
    const places = [];
    for (const length of lengths) {
      for (const [tick, strength] of pairs(meter, 0, length)) places.push([(at + tick) * second, strength]);
      at += length;
    }
    return { places, lasts: at * second };
  };
  return { listed, voiced, countedIn };
};
