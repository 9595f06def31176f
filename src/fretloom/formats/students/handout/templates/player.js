const page = JSON.parse(document.getElementById("heard").textContent);
const Sound = window.AudioContext;
// Seconds that are ready before they are heard, and how long a beginning waits for its first notes.
const AHEAD = 1.2, SOON = 0.12, EVERY = 100, CALM = matchMedia("(prefers-reduced-motion: reduce)");
let context, guitar, out, body, clicks = [], run = null, moved = false, turn = 0;

const buffer = (...waves) => {
  const made = context.createBuffer(waves.length, waves[0].length, context.sampleRate);
  waves.forEach((wave, place) => made.copyToChannel(wave, place));
  return made;
};
const answering = (waves) => {
  const made = context.createConvolver();
  made.normalize = false;
  made.buffer = buffer(...waves);
  return made;
};
const open = () => {
  if (!context) {
    context = new Sound({ sampleRate: 44100 });
    guitar = guitarOf(page.guitar, context.sampleRate);
    clicks = [0, 1, 2].map((strength) => buffer(guitar.click(strength)));
    out = context.createDynamicsCompressor();
    for (const [name, value] of Object.entries({ threshold: -3, knee: 0, ratio: 20, attack: 0.001, release: 0.1 }))
      out[name].value = value;
    out.connect(context.destination);
    body = answering(guitar.bodyAnswer());
    const room = answering(guitar.roomAnswer()), loud = context.createGain();
    loud.gain.value = page.guitar.loud * Math.SQRT2;
    body.connect(loud);
    body.connect(room).connect(loud).connect(out);
  }
  return context.resume();
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
      items.push({ at, kind, moves, until: time(tick + kind[5]), seed: guitar.seedOf(place, kind[0], notes[one + 1], one) });
    }
    for (let one = 0; one < slaps.length; one += 3)
      items.push({ at: time(start + slaps[one]), slap: slaps[one + 1], loud: slaps[one + 2], seed: guitar.seedOf(place, one) });
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
const pairs = ([, ...places], least, most) => {
  const found = [];
  for (let at = 0; at < places.length; at += 2)
    if (places[at] >= least && places[at] < most) found.push([places[at], places[at + 1]]);
  return found;
};

// A note at a speed: when it is touched, and how fast it dies away then, as the recording has it.
const voiced = ({ at, until, next, kind, moves, seed }, speed, when) => {
  const rate = context.sampleRate, start = Math.floor(when * rate + 1e-6), { damping } = page.guitar;
  const samples = (second) => Math.round((when + (second - at) / speed) * rate) - start;
  const [string, midi, fret, finger, loud, , ends, every = 1, dead = 0, vibrates = 0] = kind;
  const again = next !== undefined && ("ao".includes(ends) || next <= until);
  const stop = again ? next : until, sooner = again || ends === "a" ? Math.min(damping.before_next, (stop - at) / speed / 3) : 0;
  const seconds = ends === "o" && !again ? damping.dies : ends === "l" && !again ? damping.lifted : damping.palm;
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
  return guitar.voice({
    make: page.guitar.makes[string], capo: page.guitar.capo[number], string: number, mate: string & 1, midi, fret, finger, loud, every, dead,
    seed, late: when * rate - start, changes: [...changes.filter((one) => one.at < damp), { kind: "d", at: damp, seconds }],
  });
};

const sounding = (wave, when, to, pan = 0) => {
  const source = context.createBufferSource();
  source.buffer = wave;
  const place = context.createStereoPanner();
  place.pan.value = pan;
  source.connect(place).connect(to);
  const late = Math.max(0, context.currentTime - when);
  if (late < wave.duration) source.start(Math.max(0, when) + late, late);
  run.live.push({ source, when });
};
const silent = (heard, { kind, slap }) =>
  heard !== "both" && (slap !== undefined || kind) && ((heard === "thumb") !== (kind?.[3] === "p"));
const put = (item, when) => {
  const { control } = run, rate = context.sampleRate;
  if (item.bar !== undefined) run.marks.push({ when, bar: item.bar });
  else if (item.click !== undefined) {
    if (control.clicks.checked) sounding(clicks[item.click], when, run.clicks);
  } else if (silent(control.heard.value, item)) return;
  else if (item.kind) {
    const share = page.guitar.makes[item.kind[0]][6];
    const wave = item.made ?? buffer(voiced(item, run.speed, when));
    delete item.made;
    sounding(wave, (Math.floor(when * rate + 1e-6) - guitar.lead) / rate, run.strings, (share * 2 - 1) * page.guitar.room.panned);
  } else sounding(buffer(guitar.slap(item.slap, item.seed, (item.loud / 80) ** 1.6)), when, run.strings);
};
// Makes what is heard soon; what has to be ready first, first.
const prepare = () => {
  if (!run) return;
  const begun = performance.now(), now = context.currentTime;
  run.live = run.live.filter(({ when }) => when > now - 8);
  for (;;) {
    if (run.place === run.items.length) {
      if (!run.control.loop.checked) break;
      run.place = 0;
      run.round += 1;
    }
    const item = run.items[run.place], when = run.start + (item.at + run.round * run.ends - run.from) / run.speed;
    if (when > now + AHEAD || (when > now + 0.4 && performance.now() - begun > 40)) return;
    put(item, when);
    run.place += 1;
  }
  if (now > run.start + (run.ends * (run.round + 1) - run.from) / run.speed) stopped(true);
};
// Goes on from where it is, in another way.
const changed = () => {
  const now = context.currentTime + SOON;
  if (!run || now < run.start) return run && play(run.player);
  const at = run.from + (now - run.start) * run.speed;
  for (const { source, when } of run.live) if (when > now) source.stop();
  run.live = run.live.filter(({ when }) => when <= now);
  run.marks = run.marks.filter(({ when }) => when <= now);
  Object.assign(run, listed(run.player.play, run.first, run.last, run.control.loop.checked), { start: now, from: at, speed: run.player.speed() });
  run.round = Math.floor(at / run.ends);
  run.place = run.items.findIndex((one) => one.at + run.round * run.ends >= at);
  if (run.place < 0) run.place = run.items.length;
  prepare();
};

const counted = ({ play, first }, { quarter }, speed) => {
  const [number, , skipped] = page.bars[play.bars[first]], meter = page.meters[number];
  const second = quarter / page.ticks / speed, lengths = [skipped || meter[0]];
  if (meter[0] * second < 2 || lengths[0] * 2 < meter[0]) lengths.unshift(meter[0]);
  let at = 0;
  const places = [];
  for (const length of lengths) {
    for (const [tick, strength] of pairs(meter, 0, length)) places.push([(at + tick) * second, strength]);
    at += length;
  }
  return { places, lasts: at * second };
};
const play = async (player) => {
  const mine = ++turn;
  stopped();
  await open();
  if (mine !== turn) return;
  const { control, element } = player, strings = context.createGain(), knocks = context.createGain();
  strings.connect(body);
  knocks.connect(out);
  run = { player, control, strings, clicks: knocks, live: [], marks: [], from: 0, round: 0, place: 0, speed: player.speed(), first: player.first, last: player.last };
  Object.assign(run, listed(player.play, run.first, run.last, control.loop.checked));
  const count = control.counted.checked ? counted({ play: player.play, first: run.first }, run, run.speed) : { places: [], lasts: 0 };
  // The first notes are made before the clock is read, so that none of them is late.
  for (const one of run.items)
    if (one.kind && one.at / run.speed < 0.2) one.made = buffer(voiced(one, run.speed, one.at / run.speed));
  run.start = Math.ceil((context.currentTime + SOON + count.lasts) * context.sampleRate) / context.sampleRate;
  for (const [at, strength] of count.places) sounding(clicks[strength], run.start - count.lasts + at, knocks);
  moved = false;
  element.classList.add("plays");
  control.play.textContent = control.play.dataset.stop;
  player.say("playing");
  prepare();
  run.timer = setInterval(prepare, EVERY);
  requestAnimationFrame(follow);
};
const stopped = (out) => {
  if (!run) return;
  const { player, live, timer, strings, clicks: knocks } = run, now = context.currentTime;
  clearInterval(timer);
  if (!out) {
    for (const gain of [strings.gain, knocks.gain]) gain.setTargetAtTime(0, now, 0.02);
    for (const { source } of live) source.stop(now + 0.2);
  }
  run = null;
  setTimeout(() => {
    strings.disconnect();
    knocks.disconnect();
    if (!run) context.suspend();
  }, out ? 6000 : 400);
  player.element.classList.remove("plays");
  player.control.play.textContent = player.control.play.dataset.play;
  player.say("stopped");
  shown(null);
};

// The bar that is heard now.
const bars = new Map(Array.from(document.querySelectorAll("[data-bar]"), (one) => [Number(one.dataset.bar), one]));
let lit = null;
const shown = (bar) => {
  if (bar === lit) return;
  lit?.classList.remove("now");
  lit?.removeAttribute("aria-current");
  lit = bar;
  lit?.classList.add("now");
  lit?.setAttribute("aria-current", "true");
  if (lit && !moved && !CALM.matches) lit.scrollIntoView({ block: "nearest", behavior: "smooth" });
};
const follow = () => {
  if (!run) return;
  const heard = context.currentTime - (context.outputLatency || 0);
  while (run.marks.length && run.marks[0].when <= heard) shown(bars.get(run.player.play.shown[run.marks.shift().bar]) ?? null);
  requestAnimationFrame(follow);
};

const player = (element, number) => {
  const play = page.plays[Number(element.dataset.plays)], last = play.bars.length - 1;
  element.append(document.getElementById("player").content.cloneNode(true));
  const control = Object.fromEntries(Array.from(element.querySelectorAll("[name]"), (one) => [one.name, one]));
  const output = element.querySelector("output"), status = element.querySelector("[role=status]"), places = element.querySelector(".places");
  const numbers = play.numbers ?? play.bars.map((_, at) => at + play.number);
  const made = {
    element, control, play, first: 0, last,
    tempo: () => play.ladder?.[control.tempo.value] ?? Number(control.tempo.value),
    speed: () => made.tempo() / play.beat,
    say: (what) => {
      status.textContent = status.dataset[what].replace("@", output.textContent).replace("#", made.place);
    },
    place: () => {
      const words = [made.first, made.last].map((at) => {
        const section = play.where.findLast(([start]) => start <= at)[1], bar = play.places?.[at];
        return bar ? places.dataset.words.replace("@", bar).replace("#", () => section) : section;
      });
      return [...new Set(words)].join(" – ");
    },
  };
  if (number) element.querySelector(".care").remove();
  element.querySelector("details").open = play.whole;
  Object.assign(control.tempo, play.ladder
    ? { min: 0, max: play.ladder.length - 1, value: 0, disabled: play.ladder.length < 2 }
    : { min: Math.ceil(play.beat * 0.4), max: Math.floor(play.beat * 1.2), value: Math.round(play.beat) });
  const least = numbers[0], most = numbers[last];
  for (const one of [control.from, control.to]) Object.assign(one, { min: least, max: most });
  element.querySelector(".bars").hidden = element.querySelector(".taps").hidden = !last;
  control.heard.value = play.heard ?? "both";
  control.loop.checked = !play.whole;
  const tempo = () => {
    output.textContent = output.dataset.words.replace("#", made.tempo());
    control.tempo.setAttribute("aria-valuetext", output.textContent);
  };
  const choose = (first, end) => {
    Object.assign(made, { first, last: end });
    [control.from.value, control.to.value] = [numbers[first], numbers[end]];
    const part = first > 0 || end < last;
    control.all.hidden = !part;
    places.textContent = play.places ? made.place() : "";
    if (play.own) play.shown.forEach((bar) => bars.get(bar)?.classList.remove("chosen"));
    if (part && play.own) play.shown.slice(first, end + 1).forEach((bar) => bars.get(bar)?.classList.add("chosen"));
    if (run?.player === made) startIt(made);
  };
  const typed = (one) => {
    const value = (field) => Math.min(Math.max(Math.round(Number(field.value)) || least, least), most);
    let [first, end] = [numbers.indexOf(value(control.from)), numbers.lastIndexOf(value(control.to))];
    if (first > end) [first, end] = one === control.from ? [first, numbers.lastIndexOf(numbers[first])] : [numbers.indexOf(numbers[end]), end];
    choose(first, end);
  };
  let waits;
  const soon = () => {
    clearTimeout(waits);
    waits = setTimeout(() => run?.player === made && changed(), 150);
  };
  control.play.addEventListener("click", () => run?.player === made ? stopped() : startIt(made));
  control.tempo.addEventListener("input", () => { tempo(); soon(); });
  for (const one of [control.loop, control.heard, control.clicks]) one.addEventListener("change", soon);
  for (const one of [control.from, control.to]) one.addEventListener("change", () => typed(one));
  control.all.addEventListener("click", () => { choose(0, last); control.from.focus(); });
  // A bar of the tab: the first one chosen, then as far as the next one; while it plays it stops.
  new Set(play.own ? play.shown : []).forEach((bar) => {
    const drawn = bars.get(bar), at = play.shown.indexOf(bar);
    if (!drawn || at < 0) return;
    drawn.classList.add("plays");
    drawn.addEventListener("click", () => {
      if (run) return stopped();
      const alone = made.first === made.last;
      choose(alone && at > made.first ? made.first : at, alone && at > made.first ? play.shown.lastIndexOf(bar) : at);
    });
  });
  control.play.textContent = control.play.dataset.play;
  tempo();
  choose(0, last);
  element.hidden = false;
  return made;
};
const startIt = (made) => play(made).catch(() => stopped());
if (Sound) {
  document.documentElement.classList.add("hears");
  document.querySelectorAll("[data-plays]").forEach(player);
  document.addEventListener("keydown", (event) => { if (event.key === "Escape" && run) stopped(); });
  for (const one of ["wheel", "touchmove"]) document.addEventListener(one, () => { moved = true; }, { passive: true });
}
