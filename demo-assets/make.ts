/** Draws the demo carton front and writes its job. Nothing here depends on the clock, the machine or a font. */

import { compositeStrips } from '../core/art/composite.ts'
import type { ArtFile, Layer } from '../core/art/layer.ts'
import { readArt } from '../core/art/read.ts'
import { sha256 } from '../core/base/sha256.ts'
import { memorySource } from '../core/base/source.ts'
import type { EffectSpec } from '../core/effects/effect.ts'
import type { Job } from '../core/job/job.ts'
import { newJob } from '../core/job/new.ts'
import { jobText } from '../core/job/parse.ts'
import { assignRoles } from '../core/roles/assign.ts'
import { type PsdDoc, writePsd } from '../tests/support/psd-write.ts'
import { drawArt } from './art.ts'
import { stored } from './ink.ts'
import { height, ppi, width } from './page.ts'

export const artName = 'demo.psd'

/** The layered file. @param profile  ICC profile of the press condition that the inks are meant for */
export async function makeArt(profile: Uint8Array): Promise<Uint8Array> {
  const { layers, white, cut } = drawArt()
  const doc: PsdDoc = {
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
    profile,
    paths: [{ name: 'Dieline cut', clipping: false, paths: [cut] }],
  }
  const flat = await flatten(await readArt(memorySource(artName, writePsd(doc))))
  return writePsd({ ...doc, composite: flat })
}

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
  'Holo Milky Way': { kind: 'plain', parameters: { pitchNm: 1250, azimuthDeg: 62, sharePercent: 90 } },
  'Holo lines': { kind: 'plain', parameters: { pitchNm: 1000, azimuthDeg: 90 } },
  'Holo lens rings': { kind: 'concentric', parameters: { pitchNm: 1050, grooveDepthNm: 70 } },
  'Holo comet tail': {
    kind: 'coded',
    parameters: { code: 'hue', gives: 'pitch', azimuthDeg: 90, grooveDepthNm: 80 },
  },
  'Holo star rays': { kind: 'radial', parameters: { pitchNm: 900, grooveDepthNm: 70 } },
}

/** The job beside the file: effects of the holographic layers and the white plate as it was measured. */
export async function makeJob(bytes: Uint8Array): Promise<string> {
  const { art } = await readArt(memorySource(artName, bytes))
  const fresh = newJob(
    art,
    await sha256(memorySource(artName, bytes)),
    artName,
    assignRoles(art, { aliases: [], choices: [] }),
  )
  const white = art.channels.find(channel => channel.name === 'White')!
  const job: Job = {
    ...fresh,
    panel: { ...fresh.panel, widthMm: 100, heightMm: 150 },
    effects: Object.entries(effects).map(([name, effect]) => ({
      target: { kind: 'layer', id: named(art.layers, name).id },
      effect,
    })),
    whites: [{ target: { kind: 'channel', id: white.id }, opacity: 0.6, hits: 1 }],
  }
  return jobText(job)
}

function named(layers: readonly Layer[], name: string): Layer {
  const found = layers.find(layer => layer.name === name)
  if (!found) throw new RangeError(`make: expected a layer "${name}" in the art, got none`)
  return found
}
