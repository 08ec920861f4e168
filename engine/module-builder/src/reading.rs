//! Reads the sections of a file and its parts, counting as it goes.

use crate::caps::Caps;
use crate::refusal::{Excess, Refusal};
use wasmparser::{
    BinaryReaderError, ComponentExternName, CompositeInnerType, Encoding, FunctionBody, Operator, Payload, SubType,
};

/// Why reading stopped.
pub(crate) enum Stop {
    Refused(Refusal),
    Unreadable(BinaryReaderError),
}

impl From<BinaryReaderError> for Stop {
    fn from(error: BinaryReaderError) -> Self {
        Self::Unreadable(error)
    }
}

impl From<Refusal> for Stop {
    fn from(refusal: Refusal) -> Self {
        Self::Refused(refusal)
    }
}

impl Stop {
    pub(crate) fn into_refusal(self, size: usize) -> Refusal {
        match self {
            Self::Refused(refusal) => refusal,
            Self::Unreadable(error) => damaged(&error, size),
        }
    }
}

pub(crate) fn damaged(error: &BinaryReaderError, size: usize) -> Refusal {
    Refusal::Damaged { at: error.offset() as u64, size: size as u64, reason: error.message().to_owned() }
}

pub(crate) fn within(excess: Excess, function: Option<usize>, found: usize, allowed: usize) -> Result<(), Refusal> {
    if found <= allowed { Ok(()) } else { Err(Refusal::TooLarge { excess, function, found, allowed }) }
}

/// A name with the part of its version that stands beside it.
fn full_name(name: &ComponentExternName<'_>) -> String {
    let beside = name.version_suffix.filter(|_| name.implements.is_none() && name.name.contains('@'));
    format!("{}{}", name.name, beside.unwrap_or_default())
}

/// What has been read so far. Core modules lie flat in their component, so the types of the last one opened are enough.
pub(crate) struct Reading<'a> {
    caps: &'a Caps,
    /// How the outermost part is encoded.
    pub(crate) encoding: Option<Encoding>,
    /// How many parts enclose the place being read.
    depth: usize,
    parts: usize,
    pub(crate) imports: Vec<String>,
    pub(crate) exports: Vec<String>,
    /// The imports of a bare module.
    pub(crate) core_imports: Vec<String>,
    /// Parameters of each function type of the core module being read.
    parameters: Vec<usize>,
    /// Function types of its functions, in the order of their bodies.
    types: Vec<u32>,
    /// How many of its bodies were read.
    bodies: usize,
    pub(crate) functions: usize,
    pub(crate) largest_function: usize,
}

impl<'a> Reading<'a> {
    pub(crate) fn new(caps: &'a Caps) -> Self {
        Self {
            caps,
            encoding: None,
            depth: 0,
            parts: 0,
            imports: Vec::new(),
            exports: Vec::new(),
            core_imports: Vec::new(),
            parameters: Vec::new(),
            types: Vec::new(),
            bodies: 0,
            functions: 0,
            largest_function: 0,
        }
    }

    pub(crate) fn read(&mut self, payload: Payload<'_>) -> Result<(), Stop> {
        let outermost = self.depth == 1;
        match payload {
            Payload::Version { encoding, .. } => self.enter(encoding)?,
            Payload::End(_) => self.depth = self.depth.saturating_sub(1),
            Payload::ComponentImportSection(section) if outermost => {
                for import in section {
                    self.imports.push(full_name(&import?.name));
                }
            }
            Payload::ComponentExportSection(section) if outermost => {
                for export in section {
                    self.exports.push(full_name(&export?.name));
                }
            }
            Payload::ImportSection(section) if outermost => {
                for import in section.into_imports() {
                    let import = import?;
                    self.core_imports.push(format!("{}/{}", import.module, import.name));
                }
            }
            Payload::TypeSection(section) => {
                for group in section {
                    for kind in group?.types() {
                        self.parameters.push(parameters(kind));
                    }
                }
            }
            Payload::FunctionSection(section) => {
                self.functions = self.functions.saturating_add(section.count() as usize);
                within(Excess::Functions, None, self.functions, self.caps.functions)?;
                self.types = section.into_iter().collect::<Result<_, _>>()?;
            }
            Payload::CodeSectionEntry(body) => self.function(&body)?,
            _ => {}
        }
        Ok(())
    }

    fn enter(&mut self, encoding: Encoding) -> Result<(), Refusal> {
        self.encoding.get_or_insert(encoding);
        self.depth += 1;
        self.parts += 1;
        (self.bodies, self.types, self.parameters) = (0, Vec::new(), Vec::new());
        within(Excess::Parts, None, self.parts, self.caps.parts)
    }

    fn function(&mut self, body: &FunctionBody<'_>) -> Result<(), Stop> {
        let index = Some(self.functions - self.types.len().min(self.functions) + self.bodies);
        let size = body.as_bytes().len();
        within(Excess::FunctionBytes, index, size, self.caps.function_bytes)?;
        self.largest_function = self.largest_function.max(size);
        let kind = self.types.get(self.bodies).and_then(|kind| self.parameters.get(*kind as usize));
        let mut locals = kind.copied().unwrap_or(0);
        for declared in body.get_locals_reader()? {
            locals = locals.saturating_add(declared?.0 as usize);
        }
        within(Excess::Locals, index, locals, self.caps.locals)?;
        self.bodies += 1;
        // A branch takes a byte or more and a block three, so a small body cannot exceed the caps.
        if size > self.caps.branches.min(self.caps.nesting.saturating_mul(3)) {
            self.branches(body, index)?;
        }
        Ok(())
    }

    fn branches(&self, body: &FunctionBody<'_>, index: Option<usize>) -> Result<(), Stop> {
        let (mut branches, mut nesting, mut deepest) = (0_usize, 0_usize, 0_usize);
        for operator in body.get_operators_reader()? {
            match operator? {
                Operator::Block { .. } | Operator::Loop { .. } | Operator::TryTable { .. } => nesting += 1,
                Operator::If { .. } => {
                    nesting += 1;
                    branches += 1;
                }
                Operator::Else | Operator::Br { .. } | Operator::BrIf { .. } | Operator::Return => branches += 1,
                Operator::BrTable { targets } => branches = branches.saturating_add(targets.len() as usize + 1),
                Operator::End => nesting = nesting.saturating_sub(1),
                _ => {}
            }
            deepest = deepest.max(nesting);
        }
        within(Excess::Branches, index, branches, self.caps.branches)?;
        Ok(within(Excess::Nesting, index, deepest, self.caps.nesting)?)
    }
}

fn parameters(kind: &SubType) -> usize {
    match &kind.composite_type.inner {
        CompositeInnerType::Func(function) => function.params().len(),
        _ => 0,
    }
}
