// Questions to the desk's server.

/** What the server said: `status` 0 where it is not there any more. */
export class Answer {
  constructor(status, data) {
    this.status = status;
    this.data = data;
    this.ok = status >= 200 && status < 300;
  }

  /** Why it could not be done, in a line. */
  get reason() {
    if (this.status === 0) return "the desk has ended; start it again as you did before, and this window goes on";
    if (this.status === 403) return "the desk was started again: open the address that its terminal shows, and this window goes on";
    if (this.status >= 500) return "chartkit itself failed on this, through no fault of yours; what you typed is kept";
    const { reason = "the desk could not do that", hint = "" } = this.data ?? {};
    return hint ? `${reason}: ${hint}` : reason;
  }
}

/** Asks the server: a question without a body, or with one that is sent. */
export async function ask(path, body = undefined) {
  const { response, refused } = await sent(path, body);
  return refused ?? read(response);
}

/** The server's response, whose body is still to be read, or why there is none. */
export async function sent(path, body = undefined) {
  try {
    const response = await (body === undefined ? fetch(path) : posted(path, body));
    return response.ok ? { response } : { refused: await read(response) };
  } catch {
    return { refused: new Answer(0, null) };
  }
}

/** A file goes as it is, anything else as JSON. */
function posted(path, body) {
  const [type, content] = body instanceof Blob ? ["application/octet-stream", body] : ["application/json", JSON.stringify(wellFormed(body))];
  return fetch(path, { method: "POST", headers: { "Content-Type": type }, body: content });
}

async function read(response) {
  try {
    const isJson = response.headers.get("content-type")?.startsWith("application/json");
    return new Answer(response.status, isJson ? await response.json() : await response.text());
  } catch {
    return new Answer(0, null);
  }
}

/** Half a surrogate pair is no text that can be sent. */
function wellFormed(body) {
  return typeof body.text === "string" && body.text.toWellFormed
    ? { ...body, text: body.text.toWellFormed() } : body;
}

/** Work of which only the newest counts: while one goes on, later requests wait, the last one alone. */
export class Newest {
  #work; #waiting = false; #running = null;

  constructor(work) { this.#work = work; }

  /** Settles when nothing waits any more. */
  request() {
    this.#waiting = true;
    this.#running ??= this.#run();
    return this.#running;
  }

  async #run() {
    try {
      while (this.#waiting) {
        this.#waiting = false;
        await this.#work();
      }
    } finally {
      this.#running = null;
    }
  }

  get resting() { return this.#running === null; }
}
