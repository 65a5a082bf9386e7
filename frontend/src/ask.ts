/** Asking the server. Every answer is an object, or a fault with one plain sentence. */

import type { Stale } from "./wire.ts";

export class Fault extends Error {
  readonly status: number;
  readonly body: unknown;

  constructor(message: string, status: number, body: unknown) {
    super(message);
    this.status = status;
    this.body = body;
  }
}

const AWAY = "The bench does not answer. Is its window in the terminal still open? What you wrote is kept here.";

async function answered(path: string, init: RequestInit): Promise<Response> {
  let answer: Response;
  try {
    answer = await fetch(path, init);
  } catch (error) {
    if (error instanceof DOMException && error.name === "AbortError") throw error;
    throw new Fault(AWAY, 0, null);
  }
  if (answer.ok) return answer;
  const body: unknown = await answer.json().catch(() => null);
  throw new Fault(messageOf(body) ?? "The bench could not do that.", answer.status, body);
}

function messageOf(body: unknown): string | null {
  if (typeof body !== "object" || body === null || !("message" in body)) return null;
  return typeof body.message === "string" ? body.message : null;
}

function sent(method: string, body: unknown, signal?: AbortSignal): RequestInit {
  const init: RequestInit = { method, headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) };
  if (signal) init.signal = signal;
  return init;
}

export async function get<T>(path: string, query: Record<string, string> = {}, signal?: AbortSignal): Promise<T> {
  const asked = new URLSearchParams(query).toString();
  const answer = await answered(asked ? `${path}?${asked}` : path, signal ? { signal } : {});
  return (await answer.json()) as T;
}

export async function post<T>(path: string, body: unknown, signal?: AbortSignal): Promise<T> {
  return (await (await answered(path, sent("POST", body, signal))).json()) as T;
}

const AGAIN_AFTER_MS = 300;
const MOST_TRIES = 20;

/** Asks about a text. An answer that another window's question pushed out is asked for again, while it is still wanted. */
export async function told<T extends { version: number }>(path: string, body: unknown, wanted: () => boolean, signal?: AbortSignal): Promise<T | null> {
  for (let tries = 0; tries < MOST_TRIES && wanted(); tries++) {
    const answer = await post<T | Stale>(path, body, signal);
    if (!("stale" in answer)) return wanted() ? answer : null;
    await new Promise((go) => setTimeout(go, AGAIN_AFTER_MS));
  }
  return null;
}

export async function put<T>(path: string, body: unknown): Promise<T> {
  return (await (await answered(path, sent("PUT", body))).json()) as T;
}

export async function drop(path: string, body: unknown): Promise<void> {
  await answered(path, sent("DELETE", body));
}

export async function bytes(path: string, body: unknown, signal?: AbortSignal): Promise<ArrayBuffer> {
  return (await answered(path, sent("POST", body, signal))).arrayBuffer();
}

/** A file to keep: its bytes and the name that the server gives it. */
export async function file(path: string, body: unknown): Promise<{ blob: Blob; name: string }> {
  const answer = await answered(path, sent("POST", body));
  const told = answer.headers.get("Content-Disposition") ?? "";
  const starred = /filename\*=UTF-8''([^;]+)/i.exec(told)?.[1];
  const plain = /filename="?([^";]+)"?/i.exec(told)?.[1];
  return { blob: await answer.blob(), name: starred ? decodeURIComponent(starred) : (plain ?? "pattern") };
}
