// Seeds are FNV-1a hashes of whole numbers.
const seedOf = (...parts) => {
  const found = parts.reduce((before, part) => Math.imul(before ^ part, 16777619), 2166136261) >>> 0;
  return (found ^ (found >>> 15)) >>> 0;
};
// A guitar of the same formulas and constants as formats/sound/guitar/, for a page: docs/reference/sound.md.
// `guitar` is what that table says of one instrument, `rate` is samples a second. All times are in samples.
const guitarOf = (guitar, rate) => {
  const { strings, fingers, damping, slurs, noises, body, room, clicks, scale, size } = guitar;
  const TURN = 2 * Math.PI, SIXTY = 3 * Math.log(10), FLOOR = 1e-5, DAMPED_FLOOR = 1e-7;
  const lead = Math.floor(strings.pull * rate);
  const rise = (at, count) => (1 - Math.cos(Math.PI * (at + 0.5) / count)) / 2;
  const between = (value, least, most) => Math.min(Math.max(value, least), most);
  const frequency = (midi) => 440 * 2 ** ((midi - 69) / 12);

  // Chance that is the same everywhere: numbers from -1 to 1 of a linear congruential generator.
  const chance = (seed) => () =>
    (seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0) / 2147483648 - 1;
  const noise = (seed, count, times) => {
    const next = chance(seed);
    let made = Float64Array.from({ length: count + times }, next);
    while (times--) made = made.subarray(1).map((one, at) => one - made[at]);
    return made;
  };
  const window = (at, count) =>
    between(at / (0.0005 * rate), 0, 1) * between((count - 1 - at) / (0.001 * rate), 0, 1);

  // A string at rest: for each partial its number, direction, fall and turn a sample, and its state as a complex number.
  const atRest = (make, stop) => {
    const [, weight, stiffness, inside, air, bent] = make;
    const { length, pitch } = stop;
    const below = Math.min(strings.highest, 0.45 * rate), tension = weight * (2 * length * pitch) ** 2;
    const bending = stiffness / tension * (Math.PI / length) ** 2;
    const across = [], along = [], apart = 2 ** (strings.apart_cents / 2400);
    for (let number = 1; number <= Math.floor(below / pitch); number++) {
      const hertz = pitch * number * Math.sqrt((1 + bending * number ** 2) / (1 + bending));
      if (hertz >= below) break;
      const omega = TURN * hertz, stiff = stiffness * (number * Math.PI / length) ** 2;
      let fall = omega / 2 * (tension * (inside + air / omega) + stiff * bent) / (tension + stiff);
      if (stop.stopped) fall *= strings.stopped_decay;
      for (const [low, quality, gain] of body.modes.slice(0, 3)) {
        const away = 2 * quality * (hertz - low * size) / (low * size);
        fall += strings.body_loss * gain / (1 + away ** 2);
      }
      const mode = (share, slower, off) =>
        ({ number, share, fall: fall * slower / rate, turn: omega * off / rate, re: 0, im: 0 });
      across.push(mode(strings.vertical, strings.vertical_decay, 1 / apart));
      if (number <= strings.horizontal_modes)
        along.push(mode(strings.horizontal, strings.horizontal_decay, apart));
    }
    return { stop, across, along };
  };
  const each = (modes, change) => {
    const changed = (one) => ({ ...one, ...change(one) });
    return { ...modes, across: modes.across.map(changed), along: modes.along.map(changed) };
  };
  const after = (modes, samples) => each(modes, ({ re, im, fall, turn }) => {
    const size = Math.exp(-fall * samples), cos = size * Math.cos(turn * samples), sin = size * Math.sin(turn * samples);
    return { re: re * cos - im * sin, im: re * sin + im * cos };
  });
  const kicked = (modes, kick) => each(modes, (one) => ({ re: one.re + kick(one) * one.share }));

  // The sum of all partials: a recurrence with two poles for each, four at a time, until they have died away.
  const sum = (modes, count, floor) => {
    const out = new Float64Array(count), few = new Float64Array(16), heard = [];
    for (const { re, im, fall, turn } of [...modes.across, ...modes.along]) {
      const loud = Math.hypot(re, im);
      if (loud > floor) heard.push([Math.min(count, Math.ceil(Math.log(loud / floor) / fall)), re, im, fall, turn]);
    }
    heard.sort(([one], [other]) => other - one);
    for (let first = 0; first < heard.length; first += 4) {
      few.fill(0);
      heard.slice(first, first + 4).forEach(([, re, im, fall, turn], place) => few.set([
        2 * Math.exp(-fall) * Math.cos(turn), Math.exp(-2 * fall),
        re, Math.exp(fall) * (re * Math.cos(turn) + im * Math.sin(turn)),
      ], place * 4));
      const [p1, q1, , , p2, q2, , , p3, q3, , , p4, q4] = few;
      let [, , a, b, , , c, d, , , e, f, , , g, h] = few;
      for (let at = 0, last = heard[first][0]; at < last; at += 2) {
        out[at] += a + c + e + g;
        b = p1 * a - q1 * b;
        d = p2 * c - q2 * d;
        f = p3 * e - q3 * f;
        h = p4 * g - q4 * h;
        out[at + 1] += b + d + f + h;
        a = p1 * b - q1 * a;
        c = p2 * d - q2 * c;
        e = p3 * f - q3 * e;
        g = p4 * h - q4 * g;
      }
    }
    return out;
  };
  // A wave heard at other times: how all partials move together.
  const bentWave = (modes, turned) => {
    const wave = sum(modes, Math.ceil(turned.at(-1)) + 3, FLOOR);
    return turned.map((place) => {
      const at = Math.floor(place), part = place - at;
      const a = wave[at - 1] ?? wave[at], b = wave[at], c = wave[at + 1], d = wave[at + 2];
      return b + part / 2 * (c - a + part * (2 * a - 5 * b + 4 * c - d + part * (3 * (b - c) + d - a)));
    });
  };
  const turnedBy = (count, pitch) => {
    const turned = new Float64Array(count + 1);
    for (let at = 0; at < count; at++) turned[at + 1] = turned[at] + pitch(at);
    return turned;
  };

  // What a string of another length keeps of shape and speed when a finger lands or leaves: closed integrals.
  const carried = (old, rest, length, shorter) => {
    const kept = old.map(({ number, re, im, turn }) => {
      const wave = number * Math.PI / length;
      return [wave, re / wave, -turn * im / wave];
    });
    const lands = rest.length < length, ramp = [0, 0];
    if (lands) for (const [wave, shape, speed] of kept) {
      ramp[0] += Math.sin(wave * rest.length) * shape;
      ramp[1] += Math.sin(wave * rest.length) * speed;
    }
    return (one) => {
      const wave = one.number * Math.PI / rest.length;
      let shape = 0, speed = 0;
      for (const [other, was, went] of kept) {
        const apart = other - wave, both = other + wave;
        const first = Math.abs(apart) * shorter < 1e-6 ? shorter : Math.sin(apart * shorter) / apart;
        const overlap = (first - Math.sin(both * shorter) / both) / rest.length;
        shape += overlap * was;
        speed += overlap * went;
      }
      if (lands) {
        const line = -((-1) ** one.number) * 2 / (one.number * Math.PI);
        shape -= line * ramp[0];
        speed -= line * ramp[1];
      }
      return { re: wave * shape, im: -wave * speed / one.turn };
    };
  };
  const slurred = (modes, rest, force, lands) => {
    const length = rest.stop.length, old = modes.stop.length, shorter = Math.min(length, old);
    const across = carried(modes.across, rest.stop, old, shorter), along = carried(modes.along, rest.stop, old, shorter);
    const made = {
      stop: rest.stop,
      across: rest.across.map((one) => ({ ...one, ...across(one) })),
      along: rest.along.map((one) => ({ ...one, ...along(one) })),
    };
    if (lands) return kicked(made, ({ number, turn }) =>
      force * slurs.press * 2 / length * -((-1) ** number) * Math.exp(-((turn * rate * slurs.press_time) ** 2) / 2));
    const height = force * slurs.leave * length / (old * Math.max(length - old, 0.01));
    return kicked(made, ({ number }) => height * 2 / (Math.PI * number) * Math.sin(number * Math.PI * old / length)
      * Math.exp(-((number * Math.PI / length * slurs.leave_width) ** 2) / 2));
  };

  const picked = (make, stop, how, force, seed, late) => {
    const next = chance(seed), finger = fingers[how.finger] ?? fingers.m, hard = Math.min(1, how.loud / 110);
    const place = Math.min(finger.place * scale / 0.648 * (1 + strings.random_place * next()), 0.45 * stop.length);
    const width = finger.width * (1.25 - 0.5 * hard) * Math.min(1, scale / 0.648 + 0.2);
    const time = finger.time * (1.8 - 1.3 * hard);
    const push = force * finger.way * finger.gain * 10 ** (strings.random_decibels * next() / 20);
    const rest = kicked(atRest(make, stop), ({ number, turn }) => {
      const wave = number * Math.PI / stop.length;
      if (number % how.every) return 0;
      return push * 2 / (Math.PI * number) * Math.sin(wave * place) / (Math.PI * (1 - place / stop.length))
        * Math.exp(-((wave * width) ** 2 + (turn * rate * time) ** 2) / 2);
    });
    const sooner = how.dead ? SIXTY / strings.dead_time / rate : 0;
    const falls = how.every > 1 ? strings.harmonic_decay : 1;
    return after(each(rest, ({ fall }) => ({ fall: fall * falls + sooner })), -late);
  };
  const glided = (modes, rest, change, count, add, force, seed) => {
    const ratio = rest.stop.pitch / modes.stop.pitch;
    const turned = turnedBy(count, (at) => ratio ** rise(Math.min(at, change.lasts), change.lasts));
    const wave = bentWave(modes, turned), slides = change.kind === "s", arrived = after(modes, turned[count]);
    if (slides) {
      const hiss = noise(seedOf(seed, 2), count, 2), loud = slurs.squeak * force * (change.wound ? 1 : 0.2);
      for (let at = 0; at < count; at++) {
        wave[at] += hiss[at] * loud * (1 - Math.cos(TURN * (at + 1) / (count + 1))) / 2;
        wave[at] *= 1 + (slurs.slide_loss - 1) * at / count;
      }
    }
    add(wave.subarray(0, count));
    const loss = slides ? slurs.slide_loss : 1;
    const moved = (from) => (one, at) => ({ ...one, re: (from[at]?.re ?? 0) * loss, im: (from[at]?.im ?? 0) * loss });
    return { ...rest, across: rest.across.map(moved(arrived.across)), along: rest.along.map(moved(arrived.along)) };
  };

  // One string from `lead` before its pluck to the end of its sound. `changes` are in order, the last one damps it.
  const voice = ({ make, midi, fret, capo, mate, string, changes, seed, late, ...how }) => {
    const next = chance(seedOf(string, 12)), [least, most] = strings.course_cents;
    const cents = mate ? least + (most - least) * (next() + 1) / 2 : 0;
    const stopAt = (at, pitch) => ({
      length: make[0] * 2 ** (-Math.max(0, at + capo) / 12), pitch: frequency(pitch + cents / 100), stopped: at + capo > 0,
    });
    const force = (how.loud / strings.usual_loudness) ** strings.loudness_power * (mate ? strings.course_gain : 1);
    const damp = changes.at(-1), rings = damp.seconds < 0.5 ? damping.after : 2.2;
    const length = damp.at + Math.floor(rings * rate), out = new Float32Array(lead + length);
    let modes = picked(make, stopAt(fret, midi), how, force, seed, late), now = 0, begun = 0, floor = FLOOR, vibrates = false;
    const held = [...modes.across, ...modes.along].reduce((all, { re }) => all + re, 0);
    const add = (wave) => wave.forEach((one, at) => { out[lead + now + at] += one; });
    changes.forEach((change, place) => {
      const at = Math.min(change.at, length);
      const fade = Math.floor(({ d: damping.fade, h: slurs.fade, p: slurs.fade }[change.kind] ?? 0) * rate);
      stretch(at - now, Math.min(at + fade, length) - now, fade);
      if (at >= length) return;
      now = at;
      begun = 0;
      if (change.kind === "v") vibrates = true;
      else if (change.kind === "d") {
        modes = each(modes, ({ fall, turn }) =>
          ({ fall: fall + SIXTY / change.seconds * (1 + turn * rate / TURN / damping.bend) / rate }));
        [vibrates, floor, begun] = [false, DAMPED_FLOOR, fade];
      } else {
        const rest = atRest(make, stopAt(change.fret, change.midi));
        if (change.kind === "h" || change.kind === "p") {
          modes = slurred(modes, rest, force, change.kind === "h");
          begun = fade;
        } else {
          const count = Math.max(0, Math.min(at + change.lasts, changes[place + 1].at, length) - at);
          modes = glided(modes, rest, { ...change, wound: make[1] > 1.5e-3 }, count, add, force, seed);
          now = at + count;
        }
      }
    });
    if (now < length) stretch(length - now, length - now, 0);
    const skin = noise(seedOf(seed, 1), Math.floor(noises.touch_time * rate), 1), count = skin.length;
    for (let at = 0; at < lead; at++) out[at] += held * rise(at, lead);
    for (let at = 0; at < count; at++)
      out[lead + at] += skin[at] * Math.exp(-at / count * 4) * window(at, count) * noises.touch * force;
    return out;

    function stretch(count, longer, fade) {
      const swing = slurs.vibrato_cents / 1200 * Math.LN2;
      const turned = vibrates && turnedBy(longer, (at) => Math.exp(
        swing * Math.min(at / rate / slurs.vibrato_grows, 1) * Math.sin(TURN * slurs.vibrato_rate * at / rate)));
      const wave = turned ? bentWave(modes, turned).subarray(0, longer) : sum(modes, longer, floor);
      for (let at = 0; at < Math.min(begun, longer); at++) wave[at] *= rise(at, begun);
      for (let at = 0; at < Math.min(fade, longer); at++) wave[longer - 1 - at] *= rise(at, fade);
      add(wave);
      modes = after(modes, turned ? turned[count] : count);
    }
  };

  const slap = (onStrings, seed, loud) => {
    const count = Math.floor(0.12 * rate), hiss = noise(seedOf(seed, 3), count, 0), out = new Float32Array(count);
    const long = onStrings ? 0.0025 : 0.006, level = (onStrings ? noises.slap_strings : noises.slap_body) * loud / 4;
    let smooth = 0;
    for (let at = -11; at < count; at++) {
      smooth += ((hiss[at + 11] ?? 0) - (hiss[at - 13] ?? 0)) / 24;
      if (at < 0) continue;
      const time = at / rate, push = time < long ? Math.sin(Math.PI * time / long) ** 2 : 0;
      const rattle = onStrings ? (hiss[at] - (hiss[at - 1] ?? 0)) / 2 * Math.exp(-time / 0.012) : smooth * 1.2 * Math.exp(-time / 0.018);
      out[at] = (push * 0.35 + rattle * window(at, count) * 0.5) * level;
    }
    return out;
  };
  const click = (strength) => {
    const hertz = [clicks.first, clicks.group, clicks.other][strength], count = Math.floor(clicks.time * rate * 1.5);
    return Float32Array.from({ length: count }, (_, at) => {
      const time = at / rate, fall = Math.exp(-time * SIXTY / clicks.time);
      const wave = Math.sin(TURN * hertz * time) * fall
        + clicks.partial_gain * Math.sin(TURN * hertz * clicks.partial * time) * fall ** 2;
      return wave * clicks.level * window(at, count);
    });
  };

  // What body and room answer to one push, for each ear.
  const bodyAnswer = () => {
    const count = Math.floor(room.time * rate), ears = [new Float32Array(count), new Float32Array(count)];
    const next = chance(body.seed), modes = body.modes.map(([hertz, quality, gain]) => [hertz * size, quality, gain, gain]);
    let hertz = body.modes.at(-1)[0] * size * body.step;
    for (; hertz < body.highest; hertz *= body.step) {
      const sign = next() > 0 ? 1 : -1;
      const loud = body.gain[0] + (body.gain[1] - body.gain[0]) * (next() + 1) / 2, left = next() * room.width;
      const gain = sign * loud * (hertz > body.dull_from ? (hertz / body.dull_from) ** -body.dull : 1);
      modes.push([hertz, body.quality, gain * (1 + left), gain * (1 - left)]);
    }
    for (const [at, quality, ...gains] of modes) {
      const turn = TURN * at / rate, fall = Math.exp(-turn / 2 / quality);
      let loud = turn / quality;
      for (let place = 0; place < count; place++, loud *= fall) {
        const one = loud * Math.sin(turn * place + 0.4) * Math.min((count - place) / (0.02 * rate), 1);
        ears[0][place] += gains[0] * one;
        ears[1][place] += gains[1] * one;
      }
    }
    for (const ear of ears) {
      ear[0] += body.direct * (1 + body.bright);
      ear[1] -= body.direct * body.bright;
    }
    return ears;
  };
  const roomAnswer = () => [0, 1].map((ear) => {
    const late = Math.floor(room.late * rate), count = Math.floor(room.length * rate), out = new Float32Array(late + count);
    const next = chance(room.seed + ear);
    for (let at = 0, dull = 0; at < count; at++) {
      dull = room.dark * dull + (1 - room.dark) * next();
      out[late + at] = dull * Math.exp(-at / rate * 6.9 / room.decay) * room.level * Math.min((count - at) / (0.05 * rate), 1);
    }
    return out;
  });
  return { lead, voice, slap, click, bodyAnswer, roomAnswer };
};
