/** Sides of a moving picture over those of the canvas, finest first; at the last, lines of text can still be told. */
const sides = [1, 0.75, 0.5, 0.35, 0.25, 0.18] as const

/** Part of the budget that a finer picture may be expected to take; a frame never takes the same twice. */
const room = 0.7
/** Frames in a row that must leave room before the picture becomes finer. */
const patience = 4

/**
 * Time of a moving frame that a hand does not feel as a drag, ms: two pictures of a screen. A processor that draws has
 * the window to draw as well.
 */
const cardMs = 32
const softwareMs = 24

/** @param software whether the processor draws, which begins coarser */
export function movingPace(software: boolean): Pace {
  return software ? new Pace(softwareMs, 0.5) : new Pace(cardMs, 1)
}

/**
 * How coarse a moving picture is, so that each frame keeps its time: a frame's time is taken to go with its pixels.
 * Slow frames make it coarser at once, quick ones finer after a while.
 */
export class Pace {
  readonly #budgetMs: number
  #at: number
  #quick = 0

  /** @param first side to begin with */
  constructor(budgetMs: number, first: number) {
    this.#budgetMs = budgetMs
    this.#at = Math.max(
      0,
      sides.findIndex(side => side <= first),
    )
  }

  /** Side of the moving picture over that of the canvas, 0..1. */
  get side(): number {
    return sides[this.#at]!
  }

  /** @param ms a moving frame of the present side took */
  took(ms: number): void {
    const expected = (at: number) => ms * (sides[at]! / this.side) ** 2
    if (ms > this.#budgetMs) {
      const fits = sides.findIndex((_, at) => at > this.#at && expected(at) <= this.#budgetMs)
      this.#at = fits < 0 ? sides.length - 1 : fits
      this.#quick = 0
      return
    }
    const finest = sides.findIndex((_, at) => expected(at) <= room * this.#budgetMs)
    this.#quick = finest >= 0 && finest < this.#at ? this.#quick + 1 : 0
    if (this.#quick < patience) return
    this.#at = finest
    this.#quick = 0
  }
}
