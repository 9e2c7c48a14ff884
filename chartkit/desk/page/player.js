// Sounds what the server says is played: notes are handed to Web Audio a moment ahead.

import { frequencyOf, plucked } from "./pluck.js";

const AHEAD = 0.6; // seconds that are handed over before they are heard
const EVERY = 75; // milliseconds between two looks at what comes next
const START = 0.12; // seconds until the first note
const DAMPED = 0.04; // seconds a string takes to fall silent
const [LOUD, CLICK] = [0.22, 0.12];
const SIDES = [-0.25, 0.4]; // where the guitars stand, left to right

export class Player {
  #context = null; #out = null; #song = null; #speed = 1; #click = true; #from = 0; #begun = 0; #next = []; #nextBeat = 0; #beats = [];
  #timer = 0; #waves = new Map(); #sounding = new Set(); #moved;

  /** `moved` is called with the seconds of the song again and again, with null at the end. */
  constructor(moved) { this.#moved = moved; }

  get plays() { return this.#timer !== 0; }

  /** Seconds of the song at this moment. */
  get at() { return this.plays ? Math.max(this.#from, this.#from + (this.#context.currentTime - this.#begun) * this.#speed) : this.#from; }

  /** Plays a song from a moment on; with `counted` a bar is counted in before. */
  play(song, from, { speed = 1, click = true, counted = false } = {}) {
    this.#context ??= new AudioContext();
    this.#context.resume();
    this.#silence();
    this.#out ??= this.#limited();
    this.#song = song;
    this.#speed = speed;
    this.#click = click;
    this.#from = from;
    const bar = song.bars.findLast(([start]) => start <= from + 0.001) ?? song.bars[0];
    const wait = counted ? (bar[1] * bar[2]) / speed : 0;
    this.#begun = this.#context.currentTime + START + wait;
    this.#beats = song.bars.flatMap(([start, beats, each], i) => beatsOf(start, each, song.bars[i + 1]?.[0] ?? song.end, beats));
    if (counted) for (let i = 0; i < bar[1]; i++) this.#tick(this.#begun - wait + (i * bar[2]) / speed, i === 0);
    this.#next = song.guitars.map((notes) => notes.findIndex(([start]) => start >= from - 0.001));
    this.#nextBeat = this.#beats.findIndex(([start]) => start >= from - 0.001);
    this.#timer = setInterval(() => this.#go(), EVERY);
    this.#go();
  }

  stop() {
    if (!this.plays) return;
    this.#from = this.at;
    clearInterval(this.#timer);
    this.#timer = 0;
    this.#silence();
    this.#moved(null);
  }

  #silence() {
    clearInterval(this.#timer);
    this.#timer = 0;
    for (const source of this.#sounding) source.stop();
    this.#sounding.clear();
  }

  /** Loud strokes of many strings are held back rather than cut off. */
  #limited() {
    const limit = this.#context.createDynamicsCompressor();
    limit.connect(this.#context.destination);
    return limit;
  }

  #go() {
    const until = this.at + AHEAD * this.#speed;
    this.#song.guitars.forEach((notes, guitar) => {
      let i = this.#next[guitar];
      for (; i >= 0 && i < notes.length && notes[i][0] <= until; i++) this.#note(notes[i], guitar);
      this.#next[guitar] = i;
    });
    for (; this.#click && this.#nextBeat >= 0 && this.#beats[this.#nextBeat]?.[0] <= until; this.#nextBeat++) {
      const [start, first] = this.#beats[this.#nextBeat];
      this.#tick(this.#when(start), first);
    }
    this.#moved(this.at);
    if (this.at > this.#song.end) {
      this.#from = 0;
      clearInterval(this.#timer);
      this.#timer = 0;
      this.#moved(null);
    }
  }

  #when(seconds) { return this.#begun + (seconds - this.#from) / this.#speed; }

  #note([start, end, pitch, loudness], guitar) {
    const { buffer, rate } = this.#string(pitch), from = this.#when(start), until = this.#when(end);
    const source = new AudioBufferSourceNode(this.#context, { buffer, playbackRate: rate });
    const gain = new GainNode(this.#context, { gain: LOUD * loudness });
    const side = new StereoPannerNode(this.#context, { pan: this.#song.guitars.length > 1 ? SIDES[guitar % SIDES.length] : 0 });
    gain.gain.setValueAtTime(LOUD * loudness, until);
    gain.gain.linearRampToValueAtTime(0, until + DAMPED);
    source.connect(gain).connect(side).connect(this.#out);
    this.#sound(source, from, until + DAMPED);
  }

  #tick(when, first) {
    const source = new OscillatorNode(this.#context, { type: "triangle", frequency: first ? 1600 : 1100 });
    const gain = new GainNode(this.#context, { gain: CLICK });
    gain.gain.setValueAtTime(CLICK, when);
    gain.gain.exponentialRampToValueAtTime(0.001, when + DAMPED);
    source.connect(gain).connect(this.#out);
    this.#sound(source, when, when + DAMPED);
  }

  #sound(source, from, until) {
    source.start(Math.max(from, this.#context.currentTime));
    source.stop(until);
    source.onended = () => this.#sounding.delete(source);
    this.#sounding.add(source);
  }

  /** The sound of a pitch, made once. */
  #string(pitch) {
    if (!this.#waves.has(pitch)) {
      const { wave, rate } = plucked(frequencyOf(pitch), this.#context.sampleRate);
      const buffer = new AudioBuffer({ length: wave.length, sampleRate: this.#context.sampleRate });
      buffer.copyToChannel(wave, 0);
      this.#waves.set(pitch, { buffer, rate });
    }
    return this.#waves.get(pitch);
  }
}

/** When each beat of a bar is, and whether it is the first. */
function beatsOf(start, each, end, beats) {
  const count = Math.max(1, Math.round((end - start) / each)) || beats;
  return Array.from({ length: count }, (_, i) => [start + i * each, i === 0]);
}
