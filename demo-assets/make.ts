/** Draws the demo carton front and writes its job. Nothing here depends on the clock, the machine or a font. */

import { createHash } from 'node:crypto'
import { compositeStrips } from '../core/art/composite.ts'
import type { Art, ArtFile, Layer } from '../core/art/layer.ts'
import { readArt } from '../core/art/read.ts'
import { memorySource } from '../core/base/source.ts'
import type { EffectSpec } from '../core/effects/effect.ts'
import type { Job, LampPath } from '../core/job/job.ts'
import { newJob } from '../core/job/new.ts'
import { jobText } from '../core/job/parse.ts'
import { withHandLamp } from '../core/reference/scene.ts'
import { assignRoles } from '../core/roles/assign.ts'
import { type PsdDoc, writePsd } from '../tests/support/psd-write.ts'
import { type DemoArt, drawArt } from './art.ts'
import { stored } from './ink.ts'
import { typeMarks } from './lines.ts'
import { height, heightMm, ppi, width, widthMm } from './page.ts'

export const artName = 'demo.psd'

/** The layered file. @param profile  ICC profile of the press condition that the inks are meant for */
export async function makeArt(profile: Uint8Array): Promise<Uint8Array> {
  const doc: PsdDoc = { ...documentOf(drawArt()), profile }
  const flat = await flatten(await readArt(memorySource(artName, writePsd(doc))))
  return writePsd({ ...doc, composite: flat })
}

/** A document of the art, without profile and without a picture of all layers together. */
export const documentOf = ({ layers, white, cut }: DemoArt): PsdDoc & Required<Pick<PsdDoc, 'channels'>> => ({
  width,
  height,
  mode: 'CMYK',
  depth: 8,
  ppi,
  layers,
  composite: [0, 1, 2, 3].map(() => new Uint8Array(width * height).fill(255)),
  channels: [
    {
      name: 'White',
      kind: 'spot',
      ink: { space: 'CMYK', values: [0, 0, 0, 0] },
      solidity: 0.6,
      data: Uint8Array.from(white, stored),
    },
  ],
  paths: [{ name: 'Dieline cut', clipping: false, paths: [cut] }],
})

/** The layers as the file's own flattened picture. */
async function flatten(file: ArtFile): Promise<Uint8Array[]> {
  const planes = [0, 1, 2, 3].map(() => new Uint8Array(width * height))
  for await (const strip of compositeStrips(file))
    strip.planes.forEach((plane, p) => {
      planes[p]!.set(
        Uint8Array.from(plane, (v, i) => Math.round((v * strip.alpha[i]! + 1 - strip.alpha[i]!) * 255)),
        strip.box.top * width,
      )
    })
  return planes
}

/** How each holographic layer is made, by layer name. */
const effects: Readonly<Record<string, EffectSpec>> = {
  'Holo Milky Way': { kind: 'plain', parameters: { pitchNm: 1000, azimuthDeg: 80, sharePercent: 90 } },
  'Holo lines': { kind: 'plain', parameters: { pitchNm: 1100, azimuthDeg: 90 } },
  'Holo lens rings': { kind: 'concentric', parameters: { pitchNm: 1050, grooveDepthNm: 80 } },
  'Holo comet tail': {
    kind: 'coded',
    parameters: {
      code: 'hue',
      gives: 'azimuth',
      pitchNm: 1700,
      grooveDepthNm: 90,
      // A little steeper than the directions that would send the standing lamp to the eye all at once, so the flash runs.
      stops: [
        { at: 0, value: 54 },
        { at: 0.8, value: 144 },
        { at: 0.93, value: 54 },
      ],
    },
  },
  'Holo star rays': { kind: 'radial', parameters: { pitchNm: 900, grooveDepthNm: 80 } },
}

/** Layers whose amount the rules would ask about. */
const covering = ['Substrate metallised board', 'Holo lens rings'] as const

const lamp = { azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 40 }
const pose = { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 }
/** Only lamp and panel move. */
const alone = { others: [], eye: null, ease: 'flow' } as const
const held = (timeS: number, tiltForwardDeg: number, tiltSideDeg: number) => ({
  timeS,
  lamp,
  pose: { ...pose, tiltForwardDeg, tiltSideDeg },
  ...alone,
})
const swung = (timeS: number, azimuthDeg: number) => ({
  timeS,
  lamp: { ...lamp, azimuthDeg },
  pose,
  ...alone,
})

/** Eased between its ends, so at most 8.5° a second: the flash runs along the comet's tail and back. */
const alongTheTail: LampPath = {
  name: 'Along the tail',
  loop: true,
  keys: [swung(0, 45), swung(16, 135), swung(32, 45)],
}

/** As a hand turns the carton to look at it: to and fro, then from side to side. */
const inTheHand: LampPath = {
  name: 'In the hand',
  loop: true,
  keys: [
    held(0, 0, 0),
    held(5, 14, 0),
    held(11, -14, 0),
    held(16, 0, 0),
    held(21, 0, 14),
    held(27, 0, -14),
    held(32, 0, 0),
  ],
}

/** The job beside the file: effects of the holographic layers and the white plate as it was measured. */
export async function makeJob(bytes: Uint8Array): Promise<string> {
  const { art } = await readArt(memorySource(artName, bytes))
  return jobText(jobOf(art, bytes))
}

/** The same for other art with these layers. */
export function jobOf(art: Art, bytes: Uint8Array): Job {
  const assigned = assignRoles(art, { aliases: [], choices: [] })
  const fresh = newJob(art, sha256(bytes), art.name, assigned)
  const target = (name: string) => ({ kind: 'layer' as const, id: named(art.layers, name).id })
  const white = art.channels.find(channel => channel.name === 'White')!
  return {
    ...fresh,
    panel: { ...fresh.panel, widthMm, heightMm },
    roles: covering.map(name => ({
      target: target(name),
      role: name.startsWith('Holo') ? 'holography' : 'substrate',
      amount: { from: 'alpha' },
    })),
    effects: Object.entries(effects).map(([name, effect]) => ({ target: target(name), effect })),
    whites: [
      {
        target: { kind: 'channel', id: white.id },
        opacity: { from: 'contrast', value: 0.6 },
        hits: 1,
        mottle: 0,
        screen: 'dots',
        toneGain: 0,
      },
    ],
    light: withHandLamp(fresh.light, lamp),
    paths: [alongTheTail, inTheHand],
    marked: typeMarks,
  }
}

export function named(layers: readonly Layer[], name: string): Layer {
  const found = layers.find(layer => layer.name === name)
  if (!found) throw new RangeError(`make: expected a layer "${name}" in the art, got none`)
  return found
}

function sha256(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex')
}
