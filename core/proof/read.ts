import { BadInput } from '../base/finding.ts'
import { sha256Hex } from '../base/sha256.ts'
import type { MapPlane, MaterialMap, PlaneData } from '../material/map.ts'
import { codeSamples } from './foretell.ts'
import { type ProofManifest, proofFormat, proofVersion } from './manifest.ts'
import type { PackedPlane } from './planes.ts'
import { printFactors, printPlaneName } from './print-plane.ts'
import { BitReader } from './range-coder.ts'

/** What a reader of a damaged proof can do. */
const again = 'Ask for the file again, or make the proof anew'

/** The manifest of a proof from its text. Throws BadInput when it is none, or of a newer version. @param name of the file */
export function readManifest(text: string, name: string): ProofManifest {
  let value: unknown
  try {
    value = JSON.parse(text)
  } catch {
    throw new BadInput('proof-damaged', name, 'its description', 'is not whole', again)
  }
  const { format, version } = isRecord(value) ? value : { format: null, version: null }
  if (format !== proofFormat)
    throw new BadInput('not-a-proof', name, 'field "format"', `expected "${proofFormat}"`, again)
  if (typeof version !== 'number' || version > proofVersion)
    throw new BadInput(
      'proof-newer',
      name,
      'field "version"',
      `was written by a newer rakelight (version ${String(version)}; this one reads up to ${proofVersion})`,
      'Update rakelight on this machine',
    )
  return value as ProofManifest
}

/**
 * The map of a proof. Coarser levels are made of it by `pyramid`, tables by `bakeTables`.
 * Throws BadInput, naming the plane, where one is damaged or missing.
 * @param bytesOf the packed bytes of a plane; null where the file has none
 * @param name of the file, for messages
 */
export function readMap(
  proof: Pick<ProofManifest, 'map' | 'planes'>,
  bytesOf: (entry: PackedPlane, at: number) => Uint8Array | null,
  name: string,
): MaterialMap {
  const plain = new Map<string, PlaneData>()
  for (const [at, entry] of proof.planes.entries())
    plain.set(entry.name, unpackPlane(entry, bytesOf(entry, at), name))
  return joinMap(proof, plain, name)
}

/**
 * The map of the samples of its planes, by name; a plane that is left out is left out of the map.
 * Throws BadInput where a plane has lost another that it needs.
 */
export function joinMap(
  { map, planes }: Pick<ProofManifest, 'map' | 'planes'>,
  plain: ReadonlyMap<string, PlaneData>,
  name: string,
): MaterialMap {
  const indexes = new Map<string, Int32Array>()
  const indexOf = (owner: PackedPlane, index: string): Int32Array => {
    const known = indexes.get(index)
    if (known !== undefined) return known
    const data = plain.get(index)
    if (data === undefined) throw damaged(name, owner, `has lost the plane "${index}"`)
    const made = new Int32Array(data.buffer, data.byteOffset, data.byteLength / 4)
    indexes.set(index, made)
    return made
  }
  const tileIndexes = new Set(planes.flatMap(({ tiles }) => (tiles === null ? [] : [tiles.index])))
  const out = new Map<string, MapPlane>()
  for (const entry of planes) {
    if (entry.name === printPlaneName || tileIndexes.has(entry.name)) continue
    const { components, tiles } = entry
    const data = plain.get(entry.name)
    if (data === undefined) continue
    out.set(
      entry.name,
      tiles === null
        ? { layout: 'full', components, data }
        : { layout: 'tiles', components, tile: tiles.side, index: indexOf(entry, tiles.index), data },
    )
  }
  const { print, ...head } = map
  const table = plain.get(printPlaneName)
  return { ...head, print: print && table ? { ...print, factors: printFactors(table) } : null, planes: out }
}

/**
 * The samples of one plane. Throws BadInput, naming the plane, where its bytes are damaged or not there.
 * @param name of the file
 */
export function unpackPlane(entry: PackedPlane, bytes: Uint8Array | null, name: string): PlaneData {
  if (bytes === null) throw damaged(name, entry, 'is not there')
  const { samples, components, columns, rows, packing } = entry
  if (bytes.length !== entry.bytes)
    throw damaged(name, entry, `has ${bytes.length} bytes where ${entry.bytes} were written`)
  if (sha256Hex(bytes) !== entry.sha256) throw damaged(name, entry, 'is not what its hash says')
  if (packing !== 'foretold')
    throw damaged(name, entry, `is packed as "${String(packing)}", which this version cannot read`)
  const count = columns * rows
  const data = emptyData(samples, count * components)
  const reader = new BitReader(bytes)
  for (let c = 0; c < components; c++) {
    const component = samples === 'u8' ? new Uint8Array(count) : new Uint16Array(count)
    codeSamples(reader, component, columns, rows)
    if (components === 1) data.set(component)
    else for (let i = 0; i < count; i++) data[i * components + c] = component[i]!
  }
  if (!reader.isAtEnd) throw damaged(name, entry, 'cannot be unpacked')
  return data
}

function emptyData(samples: PackedPlane['samples'], length: number): PlaneData {
  switch (samples) {
    case 'u8':
      return new Uint8Array(length)
    case 'u16':
      return new Uint16Array(length)
    case 'i16':
      return new Int16Array(length)
  }
}

const damaged = (name: string, { name: plane }: PackedPlane, problem: string): BadInput =>
  new BadInput('proof-plane-damaged', name, `plane "${plane}"`, problem, again)

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
