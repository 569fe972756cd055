/** A short number of the Bluetooth SIG's as a whole UUID. */
const assigned = (short: string) => `0000${short}-0000-1000-8000-00805f9b34fb`;

// Assigned Numbers, Bluetooth SIG.
export const heartRate = assigned('180d');
export const heartRateMeasurement = assigned('2a37');
export const bodySensorLocation = assigned('2a38');
export const battery = assigned('180f');
export const batteryLevel = assigned('2a19');
export const clientCharacteristicConfiguration = assigned('2902');
