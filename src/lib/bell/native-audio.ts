// Stands in for the wrapper through which Tone reaches audio (see the alias in vite.config.ts): every browser
// that this page runs in has the real thing, and the wrapper weighs more than the part of Tone that we use.

export const { AudioBuffer, AudioContext, AudioWorkletNode, OfflineAudioContext } = globalThis;

export const isAnyAudioContext = (value: unknown) => value instanceof AudioContext;
export const isAnyOfflineAudioContext = (value: unknown) => value instanceof OfflineAudioContext;
export const isAnyAudioNode = (value: unknown) => value instanceof AudioNode;
export const isAnyAudioParam = (value: unknown) => value instanceof AudioParam;
export const isSupported = () => Promise.resolve(true);
