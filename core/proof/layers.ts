import type { Art, ArtFile, Layer, Plane } from '../art/layer.ts'
import { Sha256 } from '../base/sha256.ts'
import { checkCancelled, type Task } from '../base/task.ts'
import { type Assigned, type RoleName, roleNames } from '../roles/role.ts'

/** A layer or channel of the art, as it was: told from another state of itself by its hash. */
export interface SignedLayer {
  /** `document`: what all of them share, size, colours, paths and profile. */
  readonly kind: 'document' | 'layer' | 'channel'
  readonly id: string
  readonly name: string
  /** What it is on the carton; null where that cannot be said of one part alone. */
  readonly role: RoleName | null
  /** SHA-256 of what it says and of its samples. */
  readonly sha256: string
}

/** Every part of a piece of art, bottom to top, with what it is. Throws Cancelled when told to stop. */
export async function signedLayers(
  file: ArtFile,
  assigned: readonly Assigned[],
  task?: Task,
): Promise<readonly SignedLayer[]> {
  const { art } = file
  const roleOf = (kind: 'layer' | 'channel', id: string) =>
    assigned.find(one => one.target.kind === kind && one.target.id === id)?.role ?? null
  const out: SignedLayer[] = [
    { kind: 'document', id: 'document', name: art.name, role: null, sha256: documentHash(art) },
  ]
  for (const [i, layer] of art.layers.entries()) {
    checkCancelled(task)
    task?.progress?.(i / art.layers.length, `hashing "${layer.name}"`)
    // An adjustment works on whatever lies below it.
    const role = layer.kind === 'adjustment' ? null : roleOf('layer', layer.id)
    const { id, name } = layer
    out.push({ kind: 'layer', id, name, role, sha256: await layerHash(file, layer) })
  }
  for (const { id, name, plane, ...said } of art.channels) {
    checkCancelled(task)
    const hash = new Sha256().update(textBytes({ name, ...said }))
    addPlane(hash, await file.documentPlane(plane))
    out.push({ kind: 'channel', id, name, role: roleOf('channel', id), sha256: hash.hex() })
  }
  return out
}

/** Parts of the art that changed, came in or are gone between two states of it. */
export function changedLayers(
  before: readonly SignedLayer[],
  after: readonly SignedLayer[],
): readonly SignedLayer[] {
  const same = (a: SignedLayer, b: SignedLayer) => a.kind === b.kind && a.id === b.id
  const common = (list: readonly SignedLayer[], other: readonly SignedLayer[]) =>
    list.filter(one => other.some(two => same(one, two)))
  const [then, now] = [common(before, after), common(after, before)]
  return [
    ...before.filter(one => !after.some(two => same(one, two) && one.sha256 === two.sha256)),
    // What another state of it is now may be another part.
    ...after.filter(one => !before.some(two => same(one, two) && one.sha256 === two.sha256)),
    // What lies above or below something else than before.
    ...then.filter((one, i) => !same(one, now[i]!)),
  ]
}

/** Roles of the parts that changed; null where that cannot be said: no parts are known, or one belongs to several. */
export function rolesTouched(
  before: readonly SignedLayer[],
  after: readonly SignedLayer[],
): readonly RoleName[] | null {
  if (before.length === 0 || after.length === 0) return null
  const roles = new Set(changedLayers(before, after).map(one => one.role))
  return roles.has(null) ? null : roleNames.filter(role => roles.has(role))
}

function documentHash({
  width,
  height,
  resolutionPpi,
  colorMode,
  depth,
  paths,
  profile,
  palette,
}: Art): string {
  const hash = new Sha256().update(textBytes({ width, height, resolutionPpi, colorMode, depth, paths }))
  for (const bytes of [profile?.bytes, palette]) if (bytes) hash.update(bytes)
  return hash.hex()
}

async function layerHash(file: ArtFile, layer: Layer): Promise<string> {
  const { id: _, findings: __, box, ...said } = layer
  // A group's box follows its members, which have hashes of their own.
  const hash = new Sha256().update(textBytes(layer.kind === 'group' ? said : { ...said, box }))
  for (const channel of layer.channelIds) addPlane(hash, await file.layerPlane(layer.id, channel))
  if (layer.mask !== null) addPlane(hash, await file.maskPlane(layer.id))
  if (layer.vectorMask?.raster) addPlane(hash, await file.vectorMaskPlane(layer.id))
  return hash.hex()
}

function addPlane(hash: Sha256, plane: Plane | null): void {
  if (plane === null) return
  const { data, box } = plane
  hash.update(textBytes(box)).update(new Uint8Array(data.buffer, data.byteOffset, data.byteLength))
}

/** Fields come in one order: that of whoever reads the file. */
const textBytes = (value: unknown): Uint8Array => new TextEncoder().encode(JSON.stringify(value))
