import { type Engine, instantiate } from 'lcms-wasm'
import { BadInput } from '../base/finding.ts'
import { readProfileHeader } from './profile-header.ts'

/** Colour spaces that a profile here may stand for. */
export type ProfileSpace = 'RGB' | 'CMYK' | 'GRAY' | 'Lab'

export interface ProfileInfo {
  readonly name: string
  readonly space: ProfileSpace
}

/**
 * Turns pixels of one space into another. Samples are interleaved and 0..1 of the space's own numbers: RGB and grey as
 * coded, Lab as L in hundredths, a and b as (v + 128) / 255, CMYK as ink with 1 = solid.
 */
export interface ColorTransform {
  readonly inputs: number
  readonly outputs: number
  /** @param pixels `inputs` samples each; returns `outputs` each, clipped to 0..1 but for Lab: taken out black lies below L* 0. The result is overwritten by the next call. */
  run(pixels: Float32Array): Float32Array
  close(): void
}

/** Where colours come from or go to: the bytes of an ICC profile, or a space that needs none. */
export type ColorEnd = { readonly icc: Uint8Array } | 'sRGB' | 'Lab'

/** How colours that the target cannot have, and the two whites, are dealt with. Source: ICC.1:2022, section 0.9. */
export const intents = ['perceptual', 'relative', 'saturation', 'absolute'] as const
export type Intent = (typeof intents)[number]

/** A way from one space to another. */
export interface Rendering {
  readonly intent: Intent
  /** Black point compensation (ISO 18619): the darkest source colour becomes the darkest of the target. No part of `absolute`. */
  readonly blackPoint: boolean
}

/** For pictures: paper is white, the darkest is black. */
export const forPictures: Rendering = { intent: 'relative', blackPoint: true }
/** For measured colours: paper and black as they are. */
export const asMeasured: Rendering = { intent: 'absolute', blackPoint: false }

/** The ICC engine. Open one a worker and keep it. */
export interface ColorEngine {
  /** Name and space of a profile; throws BadInput when the bytes are none, or one of another space. */
  inspect(icc: Uint8Array, subject: string): ProfileInfo
  /**
   * Perceptual and saturation compensate the black point whether asked to or not: the Lab end is of version 4, where
   * both start from the same black. Throws BadInput when no such transform can be made.
   */
  transform(from: ColorEnd, to: ColorEnd, rendering: Rendering, subject: string): ColorTransform
}

/**
 * @param wasm the engine's program (`lcms.wasm` of the package); without it the package looks for the file beside itself
 */
export async function openColorEngine(wasm?: Uint8Array): Promise<ColorEngine> {
  const engine = await instantiate(wasm ? { wasmBinary: wasm } : {})
  return {
    inspect: (icc, subject) => {
      readProfileHeader(icc, subject, again)
      const profile = open(engine, { icc }, subject)
      try {
        return { name: profileName(engine, profile), space: spaceOf(engine, profile, subject) }
      } finally {
        engine.cmsCloseProfile(profile)
      }
    },
    transform: (from, to, rendering, subject) => makeTransform(engine, from, to, rendering, subject),
  }
}

const again = 'Embed the profile again, or save the file without one'

/** Numbers of the intents. Source: ICC.1:2022, section 7.2.15. */
const intentNumbers: Readonly<Record<Intent, number>> = {
  perceptual: 0,
  relative: 1,
  saturation: 2,
  absolute: 3,
}
/** Exact per pixel: the precomputed tables err by up to 20 of 255 in dark corners. */
const noOptimize = 0x0100
const blackPointCompensation = 0x2000
/** lcms2.h: float samples of four bytes, the space's number, how many. */
const format = (space: number, channels: number) => (1 << 22) | (space << 16) | (channels << 3) | 4
const formats: Readonly<Record<ProfileSpace, { readonly format: number; readonly channels: number }>> = {
  GRAY: { format: format(3, 1), channels: 1 },
  RGB: { format: format(4, 3), channels: 3 },
  CMYK: { format: format(6, 4), channels: 4 },
  Lab: { format: format(10, 3), channels: 3 },
}

/** Pixels handed over at once; bounds the engine's memory, which never shrinks. */
const block = 65536

function makeTransform(
  engine: Engine,
  from: ColorEnd,
  to: ColorEnd,
  { intent, blackPoint }: Rendering,
  subject: string,
): ColorTransform {
  const source = open(engine, from, subject)
  const target = open(engine, to, subject)
  const input = spaceOf(engine, source, subject)
  const output = spaceOf(engine, target, subject)
  const flags = noOptimize | (blackPoint ? blackPointCompensation : 0)
  const handle = engine.cmsCreateTransform(
    source,
    formats[input].format,
    target,
    formats[output].format,
    intentNumbers[intent],
    flags,
  )
  engine.cmsCloseProfile(source)
  engine.cmsCloseProfile(target)
  if (handle === 0)
    throw new BadInput(
      'profile-unusable',
      subject,
      'colour profile',
      `cannot be used to turn ${input} into ${output}`,
      'Embed a profile that works in both directions, or none.',
    )
  const inputs = formats[input].channels
  const outputs = formats[output].channels
  const inAt = engine._malloc(block * inputs * 4)
  const outAt = engine._malloc(block * outputs * 4)
  let result = new Float32Array(0)
  return {
    inputs,
    outputs,
    run: pixels => {
      const count = pixels.length / inputs
      if (result.length !== count * outputs) result = new Float32Array(count * outputs)
      for (let first = 0; first < count; first += block) {
        const n = Math.min(block, count - first)
        // The engine's memory may have moved since the last block.
        const given = new Float32Array(engine.HEAPU8.buffer, inAt, n * inputs)
        given.set(pixels.subarray(first * inputs, (first + n) * inputs))
        toEngine(given, input)
        engine._cmsDoTransform(handle, inAt, outAt, n)
        const made = new Float32Array(engine.HEAPU8.buffer, outAt, n * outputs)
        fromEngine(made, output)
        result.set(made, first * outputs)
      }
      return result
    },
    close: () => {
      engine.cmsDeleteTransform(handle)
      engine._free(inAt)
      engine._free(outAt)
    },
  }
}

/** The engine counts CMYK in percent and Lab in its own units; RGB and grey in 0..1. */
function toEngine(samples: Float32Array, space: ProfileSpace): void {
  if (space === 'CMYK') for (let i = 0; i < samples.length; i++) samples[i]! *= 100
  if (space === 'Lab')
    for (let i = 0; i < samples.length; i += 3) {
      samples[i]! *= 100
      samples[i + 1] = samples[i + 1]! * 255 - 128
      samples[i + 2] = samples[i + 2]! * 255 - 128
    }
}

function fromEngine(samples: Float32Array, space: ProfileSpace): void {
  if (space === 'CMYK') for (let i = 0; i < samples.length; i++) samples[i]! /= 100
  if (space === 'Lab')
    for (let i = 0; i < samples.length; i += 3) {
      samples[i]! /= 100
      samples[i + 1] = (samples[i + 1]! + 128) / 255
      samples[i + 2] = (samples[i + 2]! + 128) / 255
    }
  else for (let i = 0; i < samples.length; i++) samples[i] = Math.min(1, Math.max(0, samples[i]!))
}

function open(engine: Engine, end: ColorEnd, subject: string): number {
  if (end === 'sRGB') return engine.cmsCreate_sRGBProfile()
  if (end === 'Lab') return engine.cmsCreateLab4Profile(null)
  readProfileHeader(end.icc, subject, again)
  // The package's own opener passes the bytes over the engine's small stack.
  const at = engine._malloc(end.icc.length)
  engine.HEAPU8.set(end.icc, at)
  const profile = engine._cmsOpenProfileFromMem(at, end.icc.length)
  engine._free(at)
  if (profile !== 0) return profile
  throw new BadInput(
    'profile-unreadable',
    subject,
    'colour profile',
    `${end.icc.length} bytes that are no ICC profile`,
    again,
  )
}

function spaceOf(engine: Engine, profile: number, subject: string): ProfileSpace {
  const space = engine.cmsGetColorSpaceASCII(profile)
  if (space === 'RGB' || space === 'CMYK' || space === 'GRAY' || space === 'Lab') return space
  throw new BadInput(
    'profile-space',
    subject,
    'colour profile',
    `stands for ${space ?? 'a colour space that is not known here'}, not for RGB, CMYK, grey or Lab`,
    'Embed a profile of the colour mode that the file is in.',
  )
}

function profileName(engine: Engine, profile: number): string {
  const description = 0
  return engine.cmsGetProfileInfoASCII(profile, description, 'en', 'US').replace(/\0.*$/s, '')
}
