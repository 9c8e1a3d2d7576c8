import type { Bridge, Command } from '../../core/host/bridge.ts'
import type { Host } from '../../core/host/contract.ts'
import { electronHost } from './electron.ts'
import { httpHost } from './http.ts'

declare global {
  interface Window {
    /** Put there by the desktop's preload script; a browser has none. */
    readonly rakelight?: Bridge
  }
}

/** The host of this page: the desktop's where its bridge is there, else the server that sent the page. */
export function chooseHost(): Host {
  return window.rakelight === undefined ? httpHost() : electronHost(window.rakelight)
}

/** Hears the desktop's menu; a browser has none, and the page's own keys do the same. */
export function onMenuCommand(listener: (command: Command) => void): void {
  window.rakelight?.onCommand(listener)
}
