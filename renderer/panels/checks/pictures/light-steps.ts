/** From darkest to brightest: light in paper white from which each begins, and its grey. */
export const lightSteps = [
  { from: 0, name: 'dark', fill: '#1c1c1c' },
  { from: 0.1, name: 'dim', fill: '#5a5a5a' },
  { from: 0.7, name: 'as paper', fill: '#a0a0a0' },
  { from: 2, name: 'flashes', fill: '#e0e0e0' },
  { from: 20, name: 'dazzles', fill: '#ffffff' },
] as const

/** Undefined for a light that is not known. */
export const lightStep = (light: number) => lightSteps.findLast(step => light >= step.from)
