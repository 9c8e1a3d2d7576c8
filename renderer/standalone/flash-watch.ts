import { decode } from '../../core/color/rgb.ts'
import { FlashMeter, flashHeight, flashWidth } from '../../core/reference/flash.ts'

/** Frames a second that are looked at. */
const rate = 30

/** Linear light of a code value. */
const linear = Float32Array.from({ length: 256 }, (_, code) => decode(code / 255))

/**
 * Counts the flashes of what is on the screen while something moves by itself. The browser makes the picture small; it
 * does so in code values, which is near enough for changes of a tenth of white.
 */
export class FlashWatch {
  readonly #meter = new FlashMeter()
  readonly #small: CanvasRenderingContext2D | null
  readonly #rgb = new Float32Array(flashWidth * flashHeight * 3)
  #first: number | null = null
  #next = 0

  constructor() {
    const canvas = document.createElement('canvas')
    canvas.width = flashWidth
    canvas.height = flashHeight
    this.#small = canvas.getContext('2d', { willReadFrequently: true })
  }

  /**
   * Whether the picture has flashed more than WCAG 2.2, 2.3.1 allows. Called in the frame in which it was drawn.
   * @param nowMs the clock of the frame
   */
  tooMuch(picture: HTMLCanvasElement, nowMs: number): boolean {
    this.#first ??= nowMs
    const timeS = (nowMs - this.#first) / 1000
    if (this.#small === null || timeS < this.#next) return false
    this.#next = timeS + 0.9 / rate
    this.#small.drawImage(picture, 0, 0, flashWidth, flashHeight)
    const { data } = this.#small.getImageData(0, 0, flashWidth, flashHeight)
    for (let i = 0; i < flashWidth * flashHeight; i++)
      for (let c = 0; c < 3; c++) this.#rgb[3 * i + c] = linear[data[4 * i + c]!]!
    this.#meter.add(timeS, this.#rgb)
    return this.#meter.stretches().length > 0
  }
}
