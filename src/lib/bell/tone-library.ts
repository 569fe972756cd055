// The one door to Tone, part by part: its index runs code as it loads, so that all of it would come along.
import { AmplitudeEnvelope } from 'tone/build/esm/component/envelope/AmplitudeEnvelope.js';
import { Filter } from 'tone/build/esm/component/filter/Filter.js';
import { Gain } from 'tone/build/esm/core/context/Gain.js';
import { Offline } from 'tone/build/esm/core/context/Offline.js';
import { getContext } from 'tone/build/esm/core/Global.js';
import { Noise } from 'tone/build/esm/source/Noise.js';
import { LFO } from 'tone/build/esm/source/oscillator/LFO.js';
import { Oscillator } from 'tone/build/esm/source/oscillator/Oscillator.js';

export const tone = { AmplitudeEnvelope, Filter, Gain, getContext, LFO, Noise, Offline, Oscillator };
