//! The table of C functions through which SQLite reaches a [`Disk`].
//!
//! SQLite gives each open file a block of memory of the size asked for. Its first field is SQLite's; the
//! second here points to an [`Open`] that Rust owns from `open` to `close`. A mounted file system is never
//! freed: a connection may outlive the test's handle on it, and a few hundred bytes in a test are no loss.

use std::ffi::{CStr, CString, c_char, c_int, c_void};
use std::mem::size_of;
use std::ptr;
use std::sync::atomic::{Ordering, fence};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use rusqlite::ffi;

use crate::disk::{Disk, Files, Refused};
use crate::plain::Plain;
use crate::together::Who;

/// The longest file name, and so the room that SQLite gives for one.
const LONGEST_NAME: c_int = 512;

type Shared = Arc<Mutex<Disk>>;

/// A storage that SQLite can open files on, by this name.
#[derive(Debug)]
pub struct Mounted {
    name: String,
    disk: Shared,
}

/// What Rust keeps of an open file.
struct Open {
    disk: Shared,
    name: String,
    temporary: bool,
    who: Who,
}

/// What SQLite keeps of an open file.
#[repr(C)]
struct Handle {
    base: ffi::sqlite3_file,
    open: *mut Open,
}

impl Mounted {
    /// Registers an empty storage under a name that no other in this process has.
    ///
    /// # Panics
    ///
    /// When the name holds a zero byte or SQLite refuses it.
    #[must_use]
    #[allow(clippy::expect_used, reason = "a test that cannot mount its storage has nothing to go on with")]
    pub fn named(name: &str) -> Mounted {
        let disk: Shared = Arc::new(Mutex::new(Disk::holding(Files::new())));
        let c_name = CString::new(name).expect("a name without zero bytes");
        let vfs = Box::into_raw(Box::new(table(c_name.into_raw(), Arc::clone(&disk))));
        // SAFETY: the table and all it points to are leaked, so they outlive every use SQLite makes of them.
        let answer = unsafe { ffi::sqlite3_vfs_register(vfs, 0) };
        assert_eq!(answer, ffi::SQLITE_OK, "SQLite refused the file system {name}");
        Mounted { name: name.to_owned(), disk }
    }

    /// Returns the name to open files through.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Returns the storage itself, locked; let it go before SQLite is to use it.
    pub fn disk(&self) -> MutexGuard<'_, Disk> {
        lock(&self.disk)
    }

    /// Returns the storage for files that are not SQLite's.
    #[must_use]
    pub fn plain(&self) -> Plain {
        Plain(Arc::clone(&self.disk))
    }

    /// Begins again with these files. No file may be open.
    pub fn replace(&self, files: Files) {
        *self.disk() = Disk::holding(files);
    }
}

fn lock(disk: &Shared) -> MutexGuard<'_, Disk> {
    disk.lock().unwrap_or_else(PoisonError::into_inner)
}

fn table(name: *mut c_char, disk: Shared) -> ffi::sqlite3_vfs {
    ffi::sqlite3_vfs {
        iVersion: 1,
        szOsFile: c_int::try_from(size_of::<Handle>()).unwrap_or(c_int::MAX),
        mxPathname: LONGEST_NAME,
        pNext: ptr::null_mut(),
        zName: name,
        pAppData: Box::into_raw(Box::new(disk)).cast(),
        xOpen: Some(open),
        xDelete: Some(delete),
        xAccess: Some(access),
        xFullPathname: Some(full_name),
        xDlOpen: None,
        xDlError: None,
        xDlSym: None,
        xDlClose: None,
        xRandomness: Some(randomness),
        xSleep: Some(sleep),
        xCurrentTime: Some(current_time),
        xGetLastError: None,
        xCurrentTimeInt64: None,
        xSetSystemCall: None,
        xGetSystemCall: None,
        xNextSystemCall: None,
    }
}

/// Version 2: with shared memory, and without mapped memory, which no store uses.
static METHODS: ffi::sqlite3_io_methods = ffi::sqlite3_io_methods {
    iVersion: 2,
    xClose: Some(close),
    xRead: Some(read),
    xWrite: Some(write),
    xTruncate: Some(truncate),
    xSync: Some(sync),
    xFileSize: Some(file_size),
    xLock: Some(lock_file),
    xUnlock: Some(unlock_file),
    xCheckReservedLock: Some(reserved_lock),
    xFileControl: Some(file_control),
    xSectorSize: Some(sector_size),
    xDeviceCharacteristics: Some(characteristics),
    xShmMap: Some(map_index),
    xShmLock: Some(lock_index),
    xShmBarrier: Some(barrier),
    xShmUnmap: Some(unmap_index),
    xFetch: None,
    xUnfetch: None,
};

/// Returns the storage of a file system.
///
/// # Safety
///
/// `vfs` is a table made by [`table`].
unsafe fn disk_of<'a>(vfs: *mut ffi::sqlite3_vfs) -> &'a Shared {
    // SAFETY: `pAppData` came from a box that is never freed.
    unsafe { &*(*vfs).pAppData.cast::<Shared>() }
}

/// Returns what Rust keeps of an open file.
///
/// # Safety
///
/// `file` was opened by [`open`] and not closed yet.
unsafe fn open_of<'a>(file: *mut ffi::sqlite3_file) -> &'a Open {
    // SAFETY: `open` stored a box there that lives until `close`.
    unsafe { &*(*file.cast::<Handle>()).open }
}

/// Returns a C string as text.
///
/// # Safety
///
/// `name` is null or ends with a zero byte.
unsafe fn text(name: *const c_char) -> Option<String> {
    if name.is_null() {
        return None;
    }
    // SAFETY: not null, and the caller vouches for its end.
    Some(unsafe { CStr::from_ptr(name) }.to_string_lossy().into_owned())
}

fn answer(result: Result<(), Refused>) -> c_int {
    match result {
        Ok(()) => ffi::SQLITE_OK,
        Err(Refused::Full) => ffi::SQLITE_FULL,
        Err(Refused::Sync) => ffi::SQLITE_IOERR_FSYNC,
        Err(Refused::Off) => ffi::SQLITE_IOERR,
    }
}

unsafe extern "C" fn open(
    vfs: *mut ffi::sqlite3_vfs,
    name: ffi::sqlite3_filename,
    file: *mut ffi::sqlite3_file,
    flags: c_int,
    out_flags: *mut c_int,
) -> c_int {
    // SAFETY: SQLite passes our table and a name that is null or ends with zero.
    let (disk, name) = unsafe { (disk_of(vfs), text(name)) };
    let temporary = name.is_none();
    let name = name.unwrap_or_else(|| format!("temporary-{}", lock(disk).chance.number()));
    let known = lock(disk).has(&name);
    if !known && flags & ffi::SQLITE_OPEN_CREATE == 0 {
        // SAFETY: `file` has room for a handle; no methods means that SQLite will not close it.
        unsafe { (*file).pMethods = ptr::null() };
        return ffi::SQLITE_CANTOPEN;
    }
    lock(disk).create(&name);
    let who = lock(disk).together.next();
    let opened = Box::new(Open { disk: Arc::clone(disk), name, temporary, who });
    // SAFETY: `file` has room for `szOsFile` bytes; `out_flags` is null or may be written.
    unsafe {
        let base = ffi::sqlite3_file { pMethods: &raw const METHODS };
        file.cast::<Handle>().write(Handle { base, open: Box::into_raw(opened) });
        if !out_flags.is_null() {
            *out_flags = flags;
        }
    }
    ffi::SQLITE_OK
}

unsafe extern "C" fn close(file: *mut ffi::sqlite3_file) -> c_int {
    // SAFETY: SQLite closes a file once; the box came from `open`.
    let opened = unsafe { Box::from_raw((*file.cast::<Handle>()).open) };
    lock(&opened.disk).together.leave(&opened.name, opened.who);
    if opened.temporary {
        // Where the power is off nobody will miss it.
        let _gone = lock(&opened.disk).remove(&opened.name, true);
    }
    ffi::SQLITE_OK
}

unsafe extern "C" fn read(file: *mut ffi::sqlite3_file, to: *mut c_void, length: c_int, at: i64) -> c_int {
    let length = usize::try_from(length).unwrap_or(0);
    // SAFETY: SQLite gives `length` bytes to write to, and an open file.
    let (opened, to) = unsafe { (open_of(file), std::slice::from_raw_parts_mut(to.cast::<u8>(), length)) };
    // SQLite counts on zeros where the file ends early.
    to.fill(0);
    let count = lock(&opened.disk).read(&opened.name, usize::try_from(at).unwrap_or(usize::MAX), to);
    if count < length { ffi::SQLITE_IOERR_SHORT_READ } else { ffi::SQLITE_OK }
}

unsafe extern "C" fn write(
    file: *mut ffi::sqlite3_file,
    from: *const c_void,
    length: c_int,
    at: i64,
) -> c_int {
    let length = usize::try_from(length).unwrap_or(0);
    // SAFETY: SQLite gives `length` bytes to read from, and an open file.
    let (opened, from) = unsafe { (open_of(file), std::slice::from_raw_parts(from.cast::<u8>(), length)) };
    let Ok(at) = usize::try_from(at) else { return ffi::SQLITE_IOERR_WRITE };
    answer(lock(&opened.disk).write(&opened.name, at, from))
}

unsafe extern "C" fn truncate(file: *mut ffi::sqlite3_file, length: i64) -> c_int {
    // SAFETY: SQLite passes an open file.
    let opened = unsafe { open_of(file) };
    let Ok(length) = usize::try_from(length) else { return ffi::SQLITE_IOERR_TRUNCATE };
    answer(lock(&opened.disk).truncate(&opened.name, length))
}

unsafe extern "C" fn sync(file: *mut ffi::sqlite3_file, _flags: c_int) -> c_int {
    // SAFETY: SQLite passes an open file.
    let opened = unsafe { open_of(file) };
    answer(lock(&opened.disk).sync(&opened.name))
}

unsafe extern "C" fn file_size(file: *mut ffi::sqlite3_file, size: *mut i64) -> c_int {
    // SAFETY: SQLite passes an open file and a place for the answer.
    unsafe {
        let opened = open_of(file);
        *size = i64::try_from(lock(&opened.disk).length(&opened.name)).unwrap_or(i64::MAX);
    }
    ffi::SQLITE_OK
}

fn granted(is: bool) -> c_int {
    if is { ffi::SQLITE_OK } else { ffi::SQLITE_BUSY }
}

unsafe extern "C" fn lock_file(file: *mut ffi::sqlite3_file, level: c_int) -> c_int {
    // SAFETY: SQLite passes an open file.
    let opened = unsafe { open_of(file) };
    granted(lock(&opened.disk).together.lock(&opened.name, opened.who, level))
}

unsafe extern "C" fn unlock_file(file: *mut ffi::sqlite3_file, level: c_int) -> c_int {
    // SAFETY: SQLite passes an open file.
    let opened = unsafe { open_of(file) };
    lock(&opened.disk).together.unlock(&opened.name, opened.who, level);
    ffi::SQLITE_OK
}

unsafe extern "C" fn reserved_lock(file: *mut ffi::sqlite3_file, held: *mut c_int) -> c_int {
    // SAFETY: SQLite passes an open file and a place for the answer.
    unsafe {
        let opened = open_of(file);
        *held = c_int::from(lock(&opened.disk).together.is_reserved(&opened.name));
    }
    ffi::SQLITE_OK
}

unsafe extern "C" fn map_index(
    file: *mut ffi::sqlite3_file,
    piece: c_int,
    length: c_int,
    extend: c_int,
    to: *mut *mut c_void,
) -> c_int {
    // SAFETY: SQLite passes an open file.
    let opened = unsafe { open_of(file) };
    let (piece, length) = (usize::try_from(piece).unwrap_or(0), usize::try_from(length).unwrap_or(0));
    let mut disk = lock(&opened.disk);
    let region = disk.together.map(&opened.name, opened.who, piece, length, extend != 0);
    // SAFETY: SQLite passes a place for the answer. The region stays where it is until the last connection lets it go, and
    // its cells may be written through a shared pointer.
    unsafe { *to = region.map_or(ptr::null_mut(), |region| region.cast_mut().cast()) };
    ffi::SQLITE_OK
}

unsafe extern "C" fn lock_index(file: *mut ffi::sqlite3_file, from: c_int, many: c_int, how: c_int) -> c_int {
    // SAFETY: SQLite passes an open file.
    let opened = unsafe { open_of(file) };
    let which = (usize::try_from(from).unwrap_or(0), usize::try_from(many).unwrap_or(0));
    let mut disk = lock(&opened.disk);
    if how & ffi::SQLITE_SHM_UNLOCK != 0 {
        disk.together.give_back(&opened.name, opened.who, which);
        return ffi::SQLITE_OK;
    }
    granted(disk.together.take(&opened.name, opened.who, which, how & ffi::SQLITE_SHM_EXCLUSIVE != 0))
}

unsafe extern "C" fn barrier(_file: *mut ffi::sqlite3_file) {
    fence(Ordering::SeqCst);
}

unsafe extern "C" fn unmap_index(file: *mut ffi::sqlite3_file, _remove: c_int) -> c_int {
    // SAFETY: SQLite passes an open file.
    let opened = unsafe { open_of(file) };
    lock(&opened.disk).together.unmap(&opened.name, opened.who);
    ffi::SQLITE_OK
}

unsafe extern "C" fn file_control(_file: *mut ffi::sqlite3_file, _what: c_int, _with: *mut c_void) -> c_int {
    ffi::SQLITE_NOTFOUND
}

/// What SQLite's own Unix file system says.
unsafe extern "C" fn sector_size(_file: *mut ffi::sqlite3_file) -> c_int {
    4096
}

unsafe extern "C" fn characteristics(_file: *mut ffi::sqlite3_file) -> c_int {
    ffi::SQLITE_IOCAP_POWERSAFE_OVERWRITE
}

unsafe extern "C" fn delete(vfs: *mut ffi::sqlite3_vfs, name: *const c_char, sync_folder: c_int) -> c_int {
    // SAFETY: SQLite passes our table and a name that ends with zero.
    let (disk, name) = unsafe { (disk_of(vfs), text(name)) };
    match lock(disk).remove(&name.unwrap_or_default(), sync_folder != 0) {
        Ok(true) => ffi::SQLITE_OK,
        Ok(false) => ffi::SQLITE_IOERR_DELETE_NOENT,
        Err(_) => ffi::SQLITE_IOERR_DELETE,
    }
}

unsafe extern "C" fn access(
    vfs: *mut ffi::sqlite3_vfs,
    name: *const c_char,
    _what: c_int,
    there: *mut c_int,
) -> c_int {
    // SAFETY: SQLite passes our table, a name that ends with zero and a place for the answer.
    unsafe {
        let name = text(name).unwrap_or_default();
        *there = c_int::from(lock(disk_of(vfs)).has(&name));
    }
    ffi::SQLITE_OK
}

unsafe extern "C" fn full_name(
    _vfs: *mut ffi::sqlite3_vfs,
    name: *const c_char,
    room: c_int,
    to: *mut c_char,
) -> c_int {
    // SAFETY: SQLite passes a name that ends with zero and `room` bytes to write to.
    unsafe {
        let name = CStr::from_ptr(name).to_bytes_with_nul();
        if name.len() > usize::try_from(room).unwrap_or(0) {
            return ffi::SQLITE_CANTOPEN;
        }
        ptr::copy_nonoverlapping(name.as_ptr().cast(), to, name.len());
    }
    ffi::SQLITE_OK
}

unsafe extern "C" fn randomness(vfs: *mut ffi::sqlite3_vfs, length: c_int, to: *mut c_char) -> c_int {
    let count = usize::try_from(length).unwrap_or(0);
    // SAFETY: SQLite passes our table and `length` bytes to write to.
    unsafe {
        let to = std::slice::from_raw_parts_mut(to.cast::<u8>(), count);
        lock(disk_of(vfs)).chance.noise(to);
    }
    length
}

unsafe extern "C" fn sleep(_vfs: *mut ffi::sqlite3_vfs, microseconds: c_int) -> c_int {
    // Whoever waits for a lock waits for another thread.
    std::thread::sleep(Duration::from_micros(u64::try_from(microseconds).unwrap_or(0)));
    microseconds
}

/// A day in the past, as a Julian day; nothing here asks for the time.
unsafe extern "C" fn current_time(_vfs: *mut ffi::sqlite3_vfs, now: *mut f64) -> c_int {
    // SAFETY: SQLite passes a place for the answer.
    unsafe { *now = 2_451_545.0 };
    ffi::SQLITE_OK
}
