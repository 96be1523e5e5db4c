// What this browser keeps: jobs, their revisions, attachments, and what a person chose. Records wait here until the server has them.
//
// A revision and the mark that it has not been sent are one entry, written in one transaction with strict durability before
// the screen says that it is kept.

export interface JobHead {
  id: string;
  name: string;
  owner: string;
  heads: string[]; // revisions that nothing stands on, as this browser knows them
  issued: Issued[];
  seen: number; // the server's sequence at which this was read; 0: made here
  saved?: number; // when its newest revision was made, by its device's clock
  by?: string; // who made that
  said?: string; // the run in one line, as it was when this browser planned it last
  saidOf?: string; // the revision that it was planned of then
  stage?: string; // the stage that was looked at last
}

export interface Issued {
  id: string;
  name: string;
  revision: string;
  author: string;
  at: string;
  core: string; // version of the core that made its plan
}

export interface Revision {
  id: string;
  job: string;
  parents: string[];
  author: string;
  device: string;
  note: string;
  made: number; // by this device's clock, for people alone
  content: string; // the job as canonical JSON
  unsent: 0 | 1;
  refused?: string; // what the server said against it: a person has to look at it
}

export interface Attachment {
  sha256: string;
  bytes: Uint8Array;
  unsent?: boolean; // it came from here: the server gets it before the revision that needs it
}

/** RecordRow is one record from site, as whoever made it wrote it. */
export interface RecordRow {
  id: string;
  n: number; // 0; more where another text came under the same id: both are kept
  job: string;
  text: string; // the record as one line of JSON, byte for byte as it came
  seq?: number; // its number at the server, once that told it
  sent: Sent;
  refused?: string; // why the server takes it for no record: a person has to look at it
}

/** Sent says how far something is: 0 it waits, 1 the server has it, 2 the server does not take it. */
export type Sent = 0 | 1 | 2;

/** PhotoRow is a photo or a voice note that records name by its SHA-256. */
export interface PhotoRow {
  sha256: string;
  job: string;
  place: string; // what it was taken at; empty: nothing in particular
  type: string; // image/jpeg
  made: number; // by this device's clock
  bytes: Uint8Array;
  sent: Sent;
  refused?: string;
}

/** DeviceRow is this browser as the others know it; there is one. */
export interface DeviceRow {
  id: string;
  name: string; // empty: nobody named it yet
  token?: string; // what the server knows it by, once it was let in
  numbers: Record<string, number>; // by job: of its last record
}

interface Tables {
  jobs: JobHead;
  revisions: Revision;
  attachments: Attachment;
  settings: { key: string; value: unknown };
  records: RecordRow;
  fieldphotos: PhotoRow;
  device: DeviceRow;
}
type Table = keyof Tables;
type Row<K extends Table> = Tables[K];

let open: Promise<IDBDatabase> | undefined;

function database(): Promise<IDBDatabase> {
  open ??= new Promise((done, failed) => {
    const r = indexedDB.open("trenchwright", version);
    r.onupgradeneeded = (e) => {
      for (const form of forms.slice(e.oldVersion)) form(r.result);
    };
    r.onsuccess = () => {
      r.result.onclose = r.result.onversionchange = () => {
        r.result.close();
        open = undefined;
      };
      done(r.result);
    };
    r.onerror = () => failed(r.error);
    r.onblocked = () => failed(new Error("another page of an older version keeps what is kept here: close it"));
  });
  open.catch(() => (open = undefined));
  return open;
}

// What brings the database from each form to the next; nothing that is in it goes.
const forms: ((db: IDBDatabase) => void)[] = [
  (db) => {
    db.createObjectStore("jobs", { keyPath: "id" });
    const revisions = db.createObjectStore("revisions", { keyPath: "id" });
    revisions.createIndex("job", "job");
    revisions.createIndex("unsent", "unsent");
    db.createObjectStore("attachments", { keyPath: "sha256" });
    db.createObjectStore("settings", { keyPath: "key" });
  },
  (db) => {
    for (const [table, keyPath] of [["records", ["id", "n"]], ["fieldphotos", "sha256"]] as const) {
      const t = db.createObjectStore(table, { keyPath: keyPath as string | string[] });
      t.createIndex("job", "job");
      t.createIndex("sent", "sent");
      t.createIndex("waits", ["job", "sent"]);
    }
    db.createObjectStore("device", { keyPath: "id" });
  },
];
const version = forms.length;

/** why is what went wrong with what this browser keeps, for people. */
export function why(fault: unknown): string {
  const name = fault instanceof DOMException ? fault.name : "";
  if (name === "QuotaExceededError") return "This browser has no room left: the last change was not kept. Try: keep what is unsent as a file, then free room on this device.";
  if (name) return `This browser cannot keep anything now (${name}): the last change was not kept. Try: load the page again.`;
  return fault instanceof Error ? fault.message : String(fault);
}

// Transactions whose work is not done yet. A page that is left runs nothing any more, but browsers may keep it as it stands, and
// then a transaction that it had open holds its tables for ever, and every later page waits for them. So whoever leaves gives up
// what is half done, which nobody was told to be kept; where the page is seen again, that is done once more.
const atWork = new Set<IDBTransaction>();
let back: Promise<void> | undefined;
addEventListener("pagehide", () => {
  back = new Promise((shown) => addEventListener("pageshow", () => ((back = undefined), shown()), { once: true }));
  for (const t of atWork) giveUp(t);
});

function giveUp(t: IDBTransaction): void {
  try {
    t.abort();
  } catch {
    // it has ended by itself
  }
}

const longest = 60_000; // ms that a transaction may take, on a disk that is slow or in other hands

/** during runs work in one transaction over the tables named; what it gives is given when the transaction is kept. Where the
 * browser lost its database meanwhile (it happens after sleep), the work is done once more on a new one. */
export async function during<T>(tables: Table[], mode: IDBTransactionMode, work: (t: Work) => Promise<T>): Promise<T> {
  for (let attempt = 0; ; attempt++) {
    try {
      const db = await database();
      await back;
      return await within(db.transaction(tables, mode, { durability: "strict" }), work);
    } catch (fault) {
      if (back) {
        await back;
        continue;
      }
      const lost = fault instanceof DOMException && (fault.name === "InvalidStateError" || fault.name === "UnknownError");
      if (!lost || attempt > 0) throw fault;
      open = undefined;
    }
  }
}

async function within<T>(t: IDBTransaction, work: (t: Work) => Promise<T>): Promise<T> {
  const kept = new Promise<void>((done, failed) => {
    t.oncomplete = () => done();
    t.onabort = () => failed(t.error ?? new DOMException("nothing was kept", "AbortError"));
  });
  kept.catch(() => undefined);
  const clock = setTimeout(giveUp, longest, t);
  atWork.add(t);
  try {
    const v = await work(new Work(t));
    atWork.delete(t);
    if (t.mode !== "readonly") t.commit(); // at once: a page that is left now would not come to it
    await kept;
    return v;
  } catch (fault) {
    giveUp(t);
    throw fault;
  } finally {
    atWork.delete(t);
    clearTimeout(clock);
  }
}

/** Work is what can be done in one transaction. */
export class Work {
  constructor(private t: IDBTransaction) {}
  get<K extends Table>(table: K, key: IDBValidKey): Promise<Row<K> | undefined> {
    return answer(this.t.objectStore(table).get(key));
  }
  all<K extends Table>(table: K, keys?: IDBKeyRange): Promise<Row<K>[]> {
    return answer(this.t.objectStore(table).getAll(keys));
  }
  /** of is what an index of a table has under a value, at most so many. */
  of<K extends Table>(table: K, index: string, value: IDBValidKey, most?: number): Promise<Row<K>[]> {
    return answer(this.t.objectStore(table).index(index).getAll(value, most));
  }
  /** count is how many entries a table has, or an index of it under a value. */
  count(table: Table, index?: string, value?: IDBValidKey): Promise<number> {
    const t = this.t.objectStore(table);
    return answer(index === undefined ? t.count() : t.index(index).count(value));
  }
  revisionsOf(job: string): Promise<Revision[]> {
    return answer(this.t.objectStore("revisions").index("job").getAll(job));
  }
  unsent(): Promise<Revision[]> {
    return answer(this.t.objectStore("revisions").index("unsent").getAll(1));
  }
  put<K extends Table>(table: K, value: Row<K>): Promise<IDBValidKey> {
    return answer(this.t.objectStore(table).put(value));
  }
  remove(table: Table, key: IDBValidKey): Promise<undefined> {
    return answer(this.t.objectStore(table).delete(key));
  }
}

function answer<T>(r: IDBRequest<T>): Promise<T> {
  return new Promise((done, failed) => {
    r.onsuccess = () => done(r.result);
    r.onerror = () => failed(r.error);
  });
}

export async function setting<T>(key: string, otherwise: T): Promise<T> {
  const v = await during(["settings"], "readonly", (t) => t.get("settings", key));
  return v === undefined ? otherwise : (v.value as T);
}

export function set(key: string, value: unknown): Promise<unknown> {
  return during(["settings"], "readwrite", (t) => t.put("settings", { key, value }));
}
