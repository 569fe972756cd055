/** How fast simulated straps may run. */
export const practiceSpeeds = [1, 12, 60];

export const speedWords = (times: number) => (times === 1 ? 'real time' : `${times} times as fast`);
