// The sound of a plucked string: a burst of noise goes round a loop that softens it (Karplus and
// Strong, "Digital Synthesis of Plucked-String and Drum Timbres", Computer Music Journal 7(2), 1983).

const SECONDS = 4; // of a string that rings out
const LOSS = 0.997; // left of a wave after each round
const [EVEN, HIGH] = [0.5, 100]; // the loop softens evenly up to 200 Hz, above that less: high strings ring too
const SOFT = 3; // how often the burst is smoothed: a finger rather than a nail
const FIRST = 20071; // every string begins with the same noise, so that it sounds the same each time

/** The wave of a string of some frequency, and the rate at which it has to be played to be in tune. */
export function plucked(frequency, sampleRate) {
  const share = Math.min(EVEN, HIGH / frequency); // of the later sample, and so of a sample's delay
  const period = Math.max(2, Math.round(sampleRate / frequency - share));
  const wave = new Float32Array(Math.round(SECONDS * sampleRate));
  wave.set(burst(period));
  for (let i = period + 1; i < wave.length; i++) {
    wave[i] = LOSS * ((1 - share) * wave[i - period] + share * wave[i - period - 1]);
  }
  return { wave, rate: (frequency * (period + share)) / sampleRate };
}

/** Noise of one round, smooth and without an offset. */
function burst(period) {
  let seed = FIRST, noise = Float32Array.from({ length: period + 1 }, () => {
    seed = (seed * 48271) % 2147483647; // Park and Miller's generator
    return (seed / 2147483647) * 2 - 1;
  });
  for (let i = 0; i < SOFT; i++) noise = noise.map((value, at) => (value + noise[(at + 1) % noise.length]) / 2);
  const mean = noise.reduce((sum, value) => sum + value, 0) / noise.length;
  const most = Math.max(...noise.map((value) => Math.abs(value - mean))) || 1;
  return noise.map((value) => (value - mean) / most);
}

/** The frequency of a pitch: equal temperament, A4 at 440 Hz (ISO 16). */
export function frequencyOf(pitch) { return 440 * 2 ** ((pitch - 69) / 12); }
