//! The network itself, run by a kept library in whole numbers of eight bits.

use rten::{Dimension, Model, ModelOptions, NodeId, op_registry};
use rten_tensor::NdTensor;
use rten_tensor::prelude::*;

use super::error::ReaderError;
use super::sequence::Sequence;

/// What a token that is not the answer's counts for where a point looks: as good as nothing.
const UNSPOKEN: f32 = -10_000.0;

/// The loaded network.
pub(super) struct Network {
    model: Model,
    inputs: [NodeId; 5],
    outputs: [NodeId; 2],
    words: Option<usize>,
}

/// What the network says of one row.
pub(super) struct Chances {
    /// Of each point: nothing, said, denied.
    pub(super) points: Vec<[f32; 3]>,
    /// Where in the row each point looked; each sums up to 1.
    pub(super) look: Vec<Vec<f32>>,
}

impl Network {
    /// Loads the network.
    ///
    /// # Errors
    /// Where the bytes are no such network.
    pub(super) fn load(weights: Vec<u8>) -> Result<Self, ReaderError> {
        let failed = |error: &dyn std::fmt::Display| ReaderError::Weights(error.to_string());
        let operators = op_registry!(
            Add,
            Cast,
            Concat,
            DynamicQuantizeLinear,
            Gather,
            Gelu,
            LayerNormalization,
            MatMul,
            MatMulInteger,
            Mul,
            Reshape,
            Softmax,
            Transpose
        );
        let mut options = ModelOptions::with_ops(operators);
        options.prepack_weights(true);
        let model = options.load(weights).map_err(|error| failed(&error))?;
        let node = |name: &str| model.node_id(name).map_err(|error| failed(&error));
        let inputs = [node("ids")?, node("types")?, node("places")?, node("where")?, node("spoken")?];
        let outputs = [node("chances")?, node("look")?];
        let words = model.find_node("word").and_then(|id| match model.node_info(id)?.shape()?.first()? {
            Dimension::Fixed(words) => Some(*words),
            Dimension::Symbolic(_) => None,
        });
        Ok(Self { model, inputs, outputs, words })
    }

    /// How many words and pieces its table has, where that can be told.
    pub(super) fn words(&self) -> Option<usize> {
        self.words
    }

    /// Runs one row through it.
    ///
    /// # Errors
    /// Where the library fails.
    pub(super) fn run(&self, row: &Sequence) -> Result<Chances, ReaderError> {
        let failed = |error: &dyn std::fmt::Display| ReaderError::Run(error.to_string());
        let length = row.ids.len();
        let ids = NdTensor::from_data([length], row.ids.clone());
        let types = NdTensor::from_data([length], row.kinds());
        let places = NdTensor::from_data([length], (0..length as i32).collect::<Vec<_>>());
        let spoken = |at: usize| if row.answer.contains(&at) { 0.0 } else { UNSPOKEN };
        let spoken = NdTensor::from_data([length], (0..length).map(spoken).collect::<Vec<f32>>());
        let mut place = NdTensor::<f32, 2>::zeros([row.points.len(), length]);
        for (point, tokens) in row.points.iter().enumerate() {
            for at in tokens.clone() {
                place[[point, at]] = 1.0 / tokens.len() as f32;
            }
        }
        let [i, t, p, w, s] = self.inputs;
        let given = vec![
            (i, ids.view().into()),
            (t, types.view().into()),
            (p, places.view().into()),
            (w, place.view().into()),
            (s, spoken.view().into()),
        ];
        let [chances, look] = self.model.run_n(given, self.outputs, None).map_err(|error| failed(&error))?;
        let chances: NdTensor<f32, 2> = chances.try_into().map_err(|error| failed(&error))?;
        let look: NdTensor<f32, 2> = look.try_into().map_err(|error| failed(&error))?;
        if chances.shape() != [row.points.len(), 3] || look.shape() != [row.points.len(), length] {
            return Err(ReaderError::Run("its result has another shape than its question".to_owned()));
        }
        let of = |point: usize| [chances[[point, 0]], chances[[point, 1]], chances[[point, 2]]];
        let looked = |point: usize| (0..length).map(|at| look[[point, at]]).collect();
        let points = 0..row.points.len();
        Ok(Chances { points: points.clone().map(of).collect(), look: points.map(looked).collect() })
    }
}
