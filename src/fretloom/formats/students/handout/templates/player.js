// The controls of a page that plays, and the bar that is heard.
const page = JSON.parse(document.getElementById("heard").textContent);
const Sound = window.AudioContext, notes = notesOf(page);
// Seconds that are ready before they are heard, and how long a beginning waits for its first notes.
const AHEAD = 1.6, SOON = 0.12, EVERY = 100, CALM = matchMedia("(prefers-reduced-motion: reduce)");
let context, guitar, out, body, clicks = [], run = null, moved = false, turn = 0;

const buffer = (...waves) => {
  const sound = context.createBuffer(waves.length, waves[0].length, context.sampleRate);
  waves.forEach((wave, place) => sound.copyToChannel(wave, place));
  return sound;
};
const answering = (waves) => {
  const filter = context.createConvolver();
  filter.normalize = false;
  filter.buffer = buffer(...waves);
  return filter;
};
const open = () => {
  if (!context) {
    context = new Sound({ sampleRate: 44100 });
    guitar = guitarOf(page.guitar, context.sampleRate);
    clicks = [0, 1, 2].map((strength) => buffer(guitar.click(strength)));
    // It holds peaks down, and makes all louder by 0.6 of what it takes at full scale (Web Audio 1.1, 1.20): that is taken back.
    const peaks = context.createDynamicsCompressor(), least = -3, ratio = 20;
    for (const [name, value] of Object.entries({ threshold: least, knee: 0, ratio, attack: 0.001, release: 0.1 }))
      peaks[name].value = value;
    out = context.createGain();
    out.gain.value = 10 ** (0.6 * least * (1 - 1 / ratio) / 20);
    out.connect(peaks).connect(context.destination);
    body = answering(guitar.bodyAnswer());
    const room = answering(guitar.roomAnswer()), loud = context.createGain();
    loud.gain.value = page.loud * Math.SQRT2;
    body.connect(loud);
    body.connect(room).connect(loud).connect(out);
  }
  return context.resume();
};

const made = (item, when) => buffer(guitar.voice(notes.voiced(item, run.speed, when, context.sampleRate)));
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
    const wave = item.made ?? made(item, when);
    delete item.made;
    sounding(wave, (Math.floor(when * rate + 1e-6) - guitar.lead) / rate, run.strings, (share * 2 - 1) * page.guitar.room.panned);
  } else sounding(buffer(guitar.slap(item.slap, item.seed, (item.loud / 80) ** 1.6)), when, run.strings);
};
// Makes what is heard soon; what has to be ready first, first. A page that is not seen is asked once a second at most.
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
    if (when > now + AHEAD || (when > now + 0.4 && !document.hidden && performance.now() - begun > 40)) return;
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
  Object.assign(run, notes.listed(run.player.play, run.first, run.last, run.control.loop.checked), { start: now, from: at, speed: run.player.speed() });
  run.round = Math.floor(at / run.ends);
  run.place = run.items.findIndex((one) => one.at + run.round * run.ends >= at);
  if (run.place < 0) run.place = run.items.length;
  prepare();
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
  Object.assign(run, notes.listed(player.play, run.first, run.last, control.loop.checked));
  const count = control.counted.checked ? notes.countedIn(player.play, run.first, run.quarter / run.speed) : { places: [], lasts: 0 };
  // The first notes are made before the clock is read, so that none of them is late.
  for (const one of run.items)
    if (one.kind && one.at / run.speed < 0.2) one.made = made(one, one.at / run.speed);
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
  const own = {
    element, control, play, first: 0, last,
    tempo: () => play.ladder?.[control.tempo.value] ?? Number(control.tempo.value),
    speed: () => own.tempo() / play.beat,
    say: (what) => {
      status.textContent = status.dataset[what].replace("@", output.textContent).replace("#", own.place);
    },
    place: () => {
      const words = [own.first, own.last].map((at) => {
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
    output.textContent = output.dataset.words.replace("#", own.tempo());
    control.tempo.setAttribute("aria-valuetext", output.textContent);
  };
  const choose = (first, end) => {
    Object.assign(own, { first, last: end });
    [control.from.value, control.to.value] = [numbers[first], numbers[end]];
    const part = first > 0 || end < last;
    control.all.hidden = !part;
    places.textContent = play.places ? own.place() : "";
    if (play.own) play.shown.forEach((bar) => bars.get(bar)?.classList.remove("chosen"));
    if (part && play.own) play.shown.slice(first, end + 1).forEach((bar) => bars.get(bar)?.classList.add("chosen"));
    if (run?.player === own) startIt(own);
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
    waits = setTimeout(() => run?.player === own && changed(), 150);
  };
  control.play.addEventListener("click", () => run?.player === own ? stopped() : startIt(own));
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
      const later = play.shown.indexOf(bar, own.first);
      if (own.first === own.last && later >= 0 && bar > play.shown[own.first]) choose(own.first, later);
      else choose(at, at);
    });
  });
  control.play.textContent = control.play.dataset.play;
  tempo();
  choose(0, last);
  element.hidden = false;
  return own;
};
const startIt = (player) => play(player).catch(() => stopped());
if (Sound) {
  document.documentElement.classList.add("hears");
  document.querySelectorAll("[data-plays]").forEach(player);
  document.addEventListener("keydown", ({ key, target }) => {
    if (key === "Escape" && run) stopped();
    if (target === document.body && /^(Page|Arrow|Home|End| )/.test(key)) moved = true;
  });
  for (const one of ["wheel", "touchmove"]) document.addEventListener(one, () => { moved = true; }, { passive: true });
}
