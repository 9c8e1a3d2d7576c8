/** Where a function that rises or falls passes 0 between two places; 80 halvings leave nothing of the interval. */
export function root(f: (x: number) => number, low: number, high: number): number {
  const rising = f(low) < f(high)
  let [a, b] = [low, high]
  for (let i = 0; i < 80; i++) {
    const middle = (a + b) / 2
    if (f(middle) < 0 === rising) a = middle
    else b = middle
  }
  return (a + b) / 2
}

/** Where a function with one hump is largest: where its slope, by differences of `step`, passes 0. */
export function peak(f: (x: number) => number, low: number, high: number, step = 1e-4): number {
  return root(x => f(x + step) - f(x - step), low, high)
}
