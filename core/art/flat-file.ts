import { flatId, flatLayer } from './flat-layer.ts'
import { type Art, type ArtFile, type Plane, processCount, type Rows } from './layer.ts'

/** Reads plane `index` of a picture over document rows that lie inside it. */
export type ReadPlane = (index: number, rows: Rows) => Promise<Plane>

/** What a picture without layers says of itself. */
export type FlatArt = Omit<Art, 'layers' | 'paths' | 'hasComposite'>

/** A picture without layers as an opened file: process planes are its one layer, where it has any. */
export function flatFile(said: FlatArt, readPlane: ReadPlane): ArtFile {
  const { width, height, colorMode, channels } = said
  const count = processCount(colorMode) + channels.length
  const art: Art = {
    ...said,
    layers:
      processCount(colorMode) === 0
        ? []
        : [flatLayer({ mode: colorMode, width, height, planes: count }, channels)],
    paths: [],
    hasComposite: true,
  }
  const documentPlane = async (index: number, rows?: Rows): Promise<Plane> => {
    if (!Number.isInteger(index) || index < 0 || index >= count)
      throw new RangeError(`documentPlane: expected 0 to ${count - 1}, got ${index}`)
    const top = Math.min(height, Math.max(0, rows?.top ?? 0))
    return readPlane(index, { top, bottom: Math.max(top, Math.min(height, rows?.bottom ?? height)) })
  }
  return {
    art,
    documentPlane,
    async layerPlane(layerId, channelId, rows) {
      const flat = art.layers.find(one => one.id === layerId && layerId === flatId)
      if (!flat?.channelIds.includes(channelId)) return null
      if (channelId >= 0) return documentPlane(channelId, rows)
      return documentPlane(channels.find(c => c.kind === 'transparency')!.plane, rows)
    },
    maskPlane: async () => null,
    vectorMaskPlane: async () => null,
  }
}
