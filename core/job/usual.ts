import { defaultBoard } from '../optics/scene.ts'
import type { Scene } from '../reference/scene.ts'

/** What a fresh job takes until something was measured; the page of assumed numbers says where each comes from. */
export const newBoard: Scene['board'] = {
  wavinessMrad: defaultBoard.waviness * 1000,
  glossRoughness: defaultBoard.glossRoughness,
  cellUm: defaultBoard.cell,
  build: 'transfer',
  readFrom: 'lacquer',
  coatIndex: defaultBoard.lacquerIndex,
  tint: null,
  varnishRoughness: 0.02,
  varnishScatterMrad: 0,
  microRoughnessNm: 0,
  hazeSpread: 0.15,
  caliperMm: 0.4,
}

export const newWhiteInk: Scene['whiteInk'] = { forwardness: 0.6 }

export const newPrint: Scene['print'] = {
  profile: null,
  intent: 'relative',
  // A proof shows black as dark as it prints.
  blackPoint: false,
  toneGain: [0, 0, 0, 0],
}

/** Practical viewing, ISO 3664: 500 lx. */
export const usualLux = 500

/** Pixels an inch of art whose file does not state its resolution. */
export const assumedPpi = 300
