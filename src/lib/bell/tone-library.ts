// The one door to Tone, part by part: its index runs code as it loads, so that all of it would come along.
import { AmplitudeEnvelope } from 'tone/build/esm/component/envelope/AmplitudeEnvelope.js';
// What `toDestination` reaches: each context is given one by this file.
import 'tone/build/esm/core/context/Destination.js';
import { Filter } from 'tone/build/esm/component/filter/Filter.js';
import { Gain } from 'tone/build/esm/core/context/Gain.js';
import { OfflineContext } from 'tone/build/esm/core/context/OfflineContext.js';
import { setContext } from 'tone/build/esm/core/Global.js';
import { Noise } from 'tone/build/esm/source/Noise.js';
import { LFO } from 'tone/build/esm/source/oscillator/LFO.js';
import { Oscillator } from 'tone/build/esm/source/oscillator/Oscillator.js';

export const tone = { AmplitudeEnvelope, Filter, Gain, LFO, Noise, OfflineContext, Oscillator, setContext };
